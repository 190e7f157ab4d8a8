package dev.rimecast.alerts.advice;

import dev.rimecast.alerts.view.Advice;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** One entry of {@code advice.yaml}, with the words that its keys stand for. */
record AdviceText(
        String about,
        String headline,
        List<String> siteChecks,
        List<Advice.EngineerCheck> engineerChecks,
        List<String> parts,
        int minutes,
        List<String> skills,
        List<String> cautions,
        List<String> deferTo) {

    Advice withLatestDate(Optional<Instant> latestDate) {
        return new Advice(
                about, headline, siteChecks, engineerChecks, parts, minutes, skills, cautions, deferTo, latestDate);
    }
}
