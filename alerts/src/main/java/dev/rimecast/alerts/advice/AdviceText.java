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
        List<Line<Part>> parts,
        int minutes,
        List<String> skills,
        List<String> cautions,
        List<String> panelCautions,
        List<String> deferTo,
        Names names) {

    /** What an entry names of the book's common words. */
    record Names(List<String> skills, List<String> cautions, List<String> defer) {}

    /** @param isNeeded whether a visit without it is pointless; else it is carried along where it is at hand */
    record Part(String name, boolean isNeeded) {}

    /** Whether it opens a panel on any kind of machine. */
    boolean opensPanel() {
        return engineerChecks.stream().anyMatch(line -> line.content().opensPanel());
    }

    Advice about(MachineKind kind, KindWords words, Optional<Instant> latestDate) {
        List<Part> fitting = Line.of(
                        parts,
                        kind,
                        words,
                        (part, open) -> new Part(KindWords.fill(words.part(), open, part.name()), part.isNeeded()))
                .stream()
                .map(part -> new Part(words.named(part.name(), kind), part.isNeeded()))
                .toList();
        return new Advice(
                about,
                words.named(headline, kind),
                Line.of(
                                siteChecks,
                                kind,
                                words,
                                (check, open) -> new SiteCheck(
                                        KindWords.fill(words.check(), open, check.ask()),
                                        check.told(),
                                        check.needsRunning()))
                        .stream()
                        .map(check -> new SiteCheck(words.named(check.ask(), kind), check.told(), check.needsRunning()))
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
                fitting.stream().map(Part::name).toList(),
                fitting.stream().filter(Part::isNeeded).map(Part::name).toList(),
                minutes,
                skills,
                cautions,
                panelCautions,
                deferTo,
                latestDate);
    }
}
