package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.Thresholds;
import java.util.Map;
import java.util.Optional;

/** The few numbers of a policy that the made-up alerts name. */
final class FakeThresholds {
    private static final Map<String, Thresholds.Explained> ENTRIES = Map.of(
            "limits.pull_down_seconds",
            new Thresholds.Explained(
                    900, "s from freeze start to 0 °C. Lower: slow-pull-down at its limit sooner, its dates nearer."),
            "features.split.material",
            new Thresholds.Explained(
                    1, "the least change that is worth a finding. Smaller: earlier, more often wrongly."),
            "change.false_alarms_per_machine_year",
            new Thresholds.Explained(
                    0.1,
                    "false alarms per machine and year from all changes together while nothing has changed; the limits"
                            + " follow from it. Lower: fewer false alarms, later findings."));

    static final Thresholds SOME = entry -> Optional.ofNullable(ENTRIES.get(entry));

    private FakeThresholds() {}
}
