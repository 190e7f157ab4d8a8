package dev.rimecast.alerts.advice;

import dev.rimecast.alerts.view.Advice;
import dev.rimecast.alerts.view.Advice.EngineerCheck;
import dev.rimecast.alerts.view.Advice.SiteCheck;
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
        List<Line<SiteCheck>> siteChecks,
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
                Line.of(
                                siteChecks,
                                kind,
                                words,
                                (check, open) ->
                                        new SiteCheck(KindWords.fill(words.check(), open, check.ask()), check.told()))
                        .stream()
                        .map(check -> new SiteCheck(words.named(check.ask(), kind), check.told()))
                        .toList(),
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
                Line.of(parts, kind, words, (part, open) -> KindWords.fill(words.part(), open, part)).stream()
                        .map(part -> words.named(part, kind))
                        .toList(),
                minutes,
                skills,
                cautions,
                panelCautions,
                deferTo,
                latestDate);
    }
}
