package dev.rimecast.alerts.life;

import dev.rimecast.telemetry.finding.Finding;
import java.util.Optional;
import java.util.UUID;

/**
 * What a finding and a person do to an episode. Edge cases:
 *
 * <table>
 * <caption>Findings</caption>
 * <tr><td>same or older revision</td><td>changes nothing</td></tr>
 * <tr><td>revisions left out</td><td>the newest stands; what is first seen as an update counts as a raise</td></tr>
 * <tr><td>first seen when already over</td><td>over, not yet seen</td></tr>
 * <tr><td>raised anew under another id</td><td>ends the earlier episode of the same subject and condition</td></tr>
 * <tr><td>earlier episode that arrives late</td><td>recorded as ended by the later one</td></tr>
 * <tr><td>updated after its end</td><td>raised again, unless a later episode has ended it</td></tr>
 * </table>
 */
public final class EpisodeRules {
    private EpisodeRules() {}

    /** What a finding did. */
    public sealed interface Verdict {
        /** A repeat, or older than what is known. */
        record Stale() implements Verdict {}

        /**
         * @param next the episode after the finding
         * @param ended an earlier episode that this one ends
         */
        record Applied(Episode next, Optional<Episode> ended) implements Verdict {}
    }

    /** The subject that a finding is about, in the words of {@link Finding#idOf}. */
    public static String subjectOf(Finding finding) {
        return finding.machine()
                .orElseGet(() -> finding.gateway().map(g -> "gateway:" + g).orElseGet(() -> "site:" + finding.site()));
    }

    /**
     * @param known the episode with the finding's id
     * @param open another open episode of the same subject and condition
     */
    public static Verdict receive(Optional<Episode> known, Optional<Episode> open, Finding finding) {
        if (known.isPresent() && finding.revision() <= known.get().revision()) {
            return new Verdict.Stale();
        }
        Episode before = known.orElseGet(() -> unseen(finding));
        if (before.supersededBy().isPresent()) {
            return new Verdict.Applied(before.at(finding.revision(), before.life()), Optional.empty());
        }
        Episode after = before.at(finding.revision(), step(before, known.isEmpty(), finding));
        if (open.isEmpty() || !after.isOpen()) {
            return new Verdict.Applied(after, Optional.empty());
        }
        return after.isLaterThan(open.get())
                ? new Verdict.Applied(after, Optional.of(open.get().endedBy(after.id())))
                : new Verdict.Applied(after.endedBy(open.get().id()), Optional.empty());
    }

    /** The life after somebody acknowledged it, or the reason why that is not possible. */
    public static Acknowledgement acknowledge(AlertLife life) {
        return life.match(
                normal -> new Acknowledgement.Refused("it is over and was seen already"),
                unacknowledged -> new Acknowledgement.Accepted(unacknowledged.acknowledge()),
                acknowledged -> new Acknowledgement.Refused("it was acknowledged already"),
                returned -> new Acknowledgement.Accepted(returned.acknowledge()));
    }

    /** How an acknowledgement ended. */
    public sealed interface Acknowledgement {
        record Accepted(AlertLife life) implements Acknowledgement {}

        record Refused(String reason) implements Acknowledgement {}
    }

    private static AlertLife step(Episode before, boolean first, Finding finding) {
        Severity now = new Severity(finding.stage(), finding.priority());
        return switch (finding.step()) {
            case RAISED, UPDATED ->
                before.life()
                        .match(
                                normal -> normal.raise(now),
                                unacknowledged -> unacknowledged.update(now),
                                acknowledged -> acknowledged.update(now),
                                returned -> returned.raise(now));
            case CLEARED ->
                before.life()
                        .match(
                                normal -> first ? normal.raise(now).clear() : normal,
                                unacknowledged -> unacknowledged.clear(),
                                acknowledged -> acknowledged.clear(),
                                returned -> returned);
        };
    }

    private static Episode unseen(Finding finding) {
        UUID id = finding.id();
        return new Episode(
                id,
                subjectOf(finding),
                finding.condition(),
                finding.raisedAt(),
                0,
                new AlertLife.Normal(),
                Optional.empty());
    }
}
