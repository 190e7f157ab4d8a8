package dev.rimecast.telemetry.file.result;

import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Finding.Step;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/**
 * One alert in all its revisions.
 *
 * @param revisions in order, each once, at least one
 */
record Development(List<Finding> revisions) {

    /** Sorts revisions by alert and number; a repeat of one is the same and stands once. */
    static List<Development> of(Collection<Finding> findings) {
        Map<String, TreeMap<Integer, Finding>> byAlert = new TreeMap<>();
        for (Finding finding : findings) {
            byAlert.computeIfAbsent(finding.id().toString(), id -> new TreeMap<>())
                    .putIfAbsent(finding.revision(), finding);
        }
        return byAlert.values().stream()
                .map(revisions -> new Development(worded(revisions.values())))
                .toList();
    }

    /** A revision that an answer has brought says again what was said before it. */
    private static List<Finding> worded(Collection<Finding> revisions) {
        List<Finding> worded = new ArrayList<>();
        for (Finding revision : revisions) {
            worded.add(worded.isEmpty() ? revision : revision.withWordsOf(worded.get(worded.size() - 1)));
        }
        return List.copyOf(worded);
    }

    String alert() {
        return revisions.get(0).id().toString();
    }

    String machine() {
        return revisions.get(0).machine().orElse("");
    }

    String condition() {
        return revisions.get(0).condition().code();
    }

    Instant raisedAt() {
        return revisions.get(0).raisedAt();
    }

    Optional<Instant> clearedAt() {
        return revisions.stream()
                .filter(revision -> revision.step() == Step.CLEARED)
                .map(Finding::at)
                .reduce((first, last) -> last);
    }

    /** How it stood last, before it cleared. */
    Finding last() {
        return revisions.stream()
                .filter(revision -> revision.step() != Step.CLEARED)
                .reduce((first, last) -> last)
                .orElse(revisions.get(revisions.size() - 1));
    }

    /** The last diagnosis that said anything. */
    List<ProbableCause> causes() {
        return revisions.stream()
                .map(Finding::causes)
                .filter(causes -> !causes.isEmpty())
                .reduce((first, last) -> last)
                .orElse(List.of());
    }
}
