package dev.rimecast.alerts.advice;

import dev.rimecast.alerts.view.Advice;
import dev.rimecast.alerts.view.Advice.EngineerCheck;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * One entry of {@code advice.yaml}, with the words that its keys stand for. Cautions, skills and what to defer to are the
 * same for every kind of machine.
 *
 * @param names the keys themselves
 */
record AdviceText(
        String about,
        String headline,
        List<Line<String>> siteChecks,
        List<Line<EngineerCheck>> engineerChecks,
        List<Line<String>> parts,
        int minutes,
        List<String> skills,
        List<String> cautions,
        List<String> panelCautions,
        List<String> deferTo,
        Names names) {

    /** What an entry names of the book's common words. */
    record Names(List<String> skills, List<String> cautions, List<String> defer) {}

    /** Whether it opens a panel on any kind of machine. */
    boolean opensPanel() {
        return engineerChecks.stream().anyMatch(line -> line.content().opensPanel());
    }

    Advice about(MachineKind kind, KindWords words, Optional<Instant> latestDate) {
        return new Advice(
                about,
                words.named(headline, kind),
                said(siteChecks, kind, words, words.check()),
                Line.of(
                                engineerChecks,
                                kind,
                                words,
                                (check, open) -> new EngineerCheck(
                                        KindWords.fill(words.check(), open, check.check()),
                                        check.expect(),
                                        check.opensPanel()))
                        .stream()
                        .map(check -> new EngineerCheck(
                                words.named(check.check(), kind),
                                words.named(check.expect(), kind),
                                check.opensPanel()))
                        .toList(),
                said(parts, kind, words, words.part()),
                minutes,
                skills,
                cautions,
                panelCautions,
                deferTo,
                latestDate);
    }

    private static List<String> said(List<Line<String>> lines, MachineKind kind, KindWords words, String pattern) {
        return Line.of(lines, kind, words, (text, open) -> KindWords.fill(pattern, open, text)).stream()
                .map(text -> words.named(text, kind))
                .toList();
    }
}
