package dev.rimecast.alerts.life;

import dev.rimecast.alerts.view.Hold;
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
 * <tr><td>first seen when already over</td><td>over, not yet seen; over and seen where it was held</td></tr>
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
     * @param now how bad it is
     * @param standing what else bears on the condition
     */
    public static Verdict receive(
            Optional<Episode> known, Optional<Episode> open, Finding finding, Severity now, Standing standing) {
        if (known.isPresent() && finding.revision() <= known.get().revision()) {
            return new Verdict.Stale();
        }
        Episode before = known.orElseGet(() -> unseen(finding));
        if (before.supersededBy().isPresent()) {
            return new Verdict.Applied(before.at(finding.revision(), before.life()), Optional.empty());
        }
        Episode after =
                before.at(finding.revision(), standing.settle(step(before, known.isEmpty(), finding, now, standing)));
        if (open.isEmpty() || !after.isOpen()) {
            return new Verdict.Applied(after, Optional.empty());
        }
        return after.isLaterThan(open.get())
                ? new Verdict.Applied(after, Optional.of(open.get().endedBy(after.id())))
                : new Verdict.Applied(after.endedBy(open.get().id()), Optional.empty());
    }

    /** The life after somebody acknowledged it, or the reason why that is not possible. */
    public static Change acknowledge(AlertLife life) {
        if (life instanceof AlertLife.Acknowledgeable unseen) {
            return new Change.Allowed(unseen.acknowledge());
        }
        return new Change.Refused(
                switch (life.state()) {
                    case NORMAL -> "it is over and was seen already";
                    case SHELVED, SUPPRESSED_BY_DESIGN, OUT_OF_SERVICE -> "it does not count now";
                    default -> "it was acknowledged already";
                });
    }

    /** The life after somebody reset it, or the reason why that is not possible. */
    public static Change reset(AlertLife life) {
        return life instanceof AlertLife.Resettable latched
                ? new Change.Allowed(latched.reset())
                : new Change.Refused("only what is over and latched can be reset");
    }

    /** The life under a new hold, or the reason why there is nothing to hold. */
    public static Change hold(AlertLife life, Hold.Kind kind) {
        if (life.state() == kind.state()) {
            return new Change.Refused("it is " + kind.code() + " already");
        }
        return life instanceof AlertLife.Present
                ? new Change.Allowed(new Standing(false, Optional.of(kind)).settle(life))
                : new Change.Refused("it is over: there is nothing to put aside");
    }

    /** What a person wanted. */
    public sealed interface Change {
        record Allowed(AlertLife life) implements Change {}

        record Refused(String reason) implements Change {}
    }

    private static AlertLife step(Episode before, boolean first, Finding finding, Severity now, Standing standing) {
        return switch (finding.step()) {
            case RAISED, UPDATED -> before.life().present(now);
            // What is first seen when it is over was there.
            case CLEARED ->
                (first ? standing.settle(before.life().present(now)) : before.life()).gone(standing.latches());
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
