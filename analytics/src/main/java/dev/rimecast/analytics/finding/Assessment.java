package dev.rimecast.analytics.finding;

import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Finding.Measure;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.util.List;
import java.util.Optional;

/**
 * What a rule has to say about a condition now.
 *
 * @param by the numbers that decided; empty where none did, as at an end
 */
public record Assessment(
        Stage stage,
        Priority priority,
        List<ProbableCause> causes,
        Optional<Measure> measure,
        Optional<LimitExpected> limit,
        String summary,
        List<Threshold> by) {

    public Assessment {
        causes = List.copyOf(causes);
        by = List.copyOf(by);
    }

    /** @param by the numbers that decided, at least one: whoever is told can look them up */
    public static Assessment of(Stage stage, Priority priority, String summary, List<? extends Threshold> by) {
        if (by.isEmpty()) {
            throw new IllegalArgumentException("nothing decided that '" + summary + "'");
        }
        return new Assessment(stage, priority, List.of(), Optional.empty(), Optional.empty(), summary, List.copyOf(by));
    }

    public static Assessment of(Stage stage, Priority priority, String summary, Threshold by) {
        return of(stage, priority, summary, List.of(by));
    }

    public Assessment causes(List<ProbableCause> probable) {
        return new Assessment(stage, priority, probable, measure, limit, summary, by);
    }

    public Assessment measure(Measure number) {
        return new Assessment(stage, priority, causes, Optional.of(number), limit, summary, by);
    }

    public Assessment limit(Optional<LimitExpected> expected) {
        return new Assessment(stage, priority, causes, measure, expected, summary, by);
    }

    /** The same in other words. */
    Assessment saying(String words) {
        return new Assessment(stage, priority, causes, measure, limit, words, by);
    }
}
