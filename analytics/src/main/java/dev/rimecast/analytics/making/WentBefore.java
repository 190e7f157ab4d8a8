package dev.rimecast.analytics.making;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.finding.OpenFinding;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.limits.SuddenStop;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.stream.Stream;

/**
 * What a machine had before it stopped is the first thing that may have stopped it. The shares that are given to it are
 * common practice, from no survey; the rest stays with what else stops machines.
 */
final class WentBefore {
    private static final Duration SHORTLY = Duration.ofDays(2);
    private static final double SHARE_OF_FOUND = 0.85;
    private static final double SHARE_OF_CYCLES = 0.6;

    private WentBefore() {}

    /**
     * The same with the causes of what was found shortly before, else with what is probably wrong by the last cycles.
     *
     * @param byCycles asked for only where nothing was found shortly before
     */
    static Assessment added(Assessment stop, long millis, RuleContext context, Supplier<List<ProbableCause>> byCycles) {
        Instant since = Instant.ofEpochMilli(millis).minus(SHORTLY);
        for (Condition condition : SuddenStop.STOPPING) {
            Optional<OpenFinding> found = context.open(condition)
                    .filter(open ->
                            !open.raisedAt().isBefore(since) && !open.causes().isEmpty());
            if (found.isPresent()) {
                String words = "Shortly before: " + condition.code().replace('-', ' ') + '.';
                return stop.causes(mixed(found.get().causes(), words, SHARE_OF_FOUND, stop.causes()));
            }
        }
        List<ProbableCause> wrong = byCycles.get();
        String words = "Its last cycles spoke for this before it stopped.";
        return wrong.isEmpty() ? stop : stop.causes(mixed(wrong, words, SHARE_OF_CYCLES, stop.causes()));
    }

    private static List<ProbableCause> mixed(
            List<ProbableCause> before, String words, double share, List<ProbableCause> usual) {
        Map<Cause, ProbableCause> mixed = new EnumMap<>(Cause.class);
        usual.forEach(one -> mixed.put(one.cause(), weighed(one, 1 - share, List.of())));
        before.forEach(one -> mixed.merge(one.cause(), weighed(one, share, List.of(words)), WentBefore::both));
        return mixed.values().stream()
                .sorted(Comparator.comparingDouble(ProbableCause::probability).reversed())
                .toList();
    }

    private static ProbableCause weighed(ProbableCause one, double share, List<String> more) {
        List<String> inFavour =
                Stream.concat(more.stream(), one.evidenceFor().stream()).toList();
        return new ProbableCause(one.cause(), share * one.probability(), inFavour, one.evidenceAgainst());
    }

    private static ProbableCause both(ProbableCause a, ProbableCause b) {
        return new ProbableCause(
                a.cause(),
                a.probability() + b.probability(),
                Stream.concat(a.evidenceFor().stream(), b.evidenceFor().stream())
                        .toList(),
                Stream.concat(a.evidenceAgainst().stream(), b.evidenceAgainst().stream())
                        .toList());
    }
}
