package dev.rimecast.analytics.finding;

import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Finding.Measure;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.util.List;
import java.util.Optional;

/** What a rule has to say about a condition now. */
public record Assessment(
        Stage stage,
        Priority priority,
        List<ProbableCause> causes,
        Optional<Measure> measure,
        Optional<LimitExpected> limit,
        String summary) {

    public Assessment {
        causes = List.copyOf(causes);
    }

    public static Assessment of(Stage stage, Priority priority, String summary) {
        return new Assessment(stage, priority, List.of(), Optional.empty(), Optional.empty(), summary);
    }

    public Assessment causes(List<ProbableCause> probable) {
        return new Assessment(stage, priority, probable, measure, limit, summary);
    }

    public Assessment measure(Measure number) {
        return new Assessment(stage, priority, causes, Optional.of(number), limit, summary);
    }

    public Assessment limit(Optional<LimitExpected> expected) {
        return new Assessment(stage, priority, causes, measure, expected, summary);
    }
}
