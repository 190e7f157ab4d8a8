package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.finding.OpenFinding;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * A room colder than a machine is made for upsets its cycles in ways that no expectation has learned: too little heat for
 * the harvest, condensing pressure too low to feed the evaporator [common practice]. What changes while it is so, is first
 * laid to the room.
 */
final class ColdRoom {
    private static final double ITS_SHARE = 0.8;
    /** The air falls for hours before it has been below the limit for long enough to be told. */
    private static final long LEAD_MILLIS = 12 * 3_600_000L;

    private static final List<String> EVIDENCE =
            List.of("The air has been colder than the machine is made for since before this began.");

    private ColdRoom() {}

    /**
     * The causes, with the room before them where it is too cold.
     *
     * @param began when what is to be explained began, ms
     */
    static List<ProbableCause> first(List<ProbableCause> causes, long began, RuleContext context) {
        Optional<OpenFinding> cold = context.open(Condition.AMBIENT_OUT_OF_RANGE)
                .filter(place -> place.causes().stream().anyMatch(c -> c.cause() == Cause.ROOM_TOO_COLD));
        if (cold.isEmpty() || began < cold.get().raisedAt().toEpochMilli() - LEAD_MILLIS) {
            return causes;
        }
        List<ProbableCause> all = new ArrayList<>();
        all.add(new ProbableCause(Cause.ROOM_TOO_COLD, ITS_SHARE, EVIDENCE, List.of()));
        for (ProbableCause cause : causes) {
            if (cause.cause() != Cause.ROOM_TOO_COLD) {
                all.add(new ProbableCause(
                        cause.cause(),
                        (1 - ITS_SHARE) * cause.probability(),
                        cause.evidenceFor(),
                        cause.evidenceAgainst()));
            }
        }
        return List.copyOf(all);
    }
}
