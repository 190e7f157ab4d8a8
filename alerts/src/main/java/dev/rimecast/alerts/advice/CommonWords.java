package dev.rimecast.alerts.advice;

import java.util.List;
import java.util.Map;

/**
 * What the entries of {@code advice.yaml} share.
 *
 * @param panel cautions of every entry that opens a panel
 * @param cautions further cautions by name
 * @param kinds how a line says which kind of machine it is for
 */
record CommonWords(
        List<String> panel,
        Map<String, String> cautions,
        Map<String, String> skills,
        Map<String, String> defer,
        KindWords kinds) {}
