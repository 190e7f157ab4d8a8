package dev.rimecast.simulator.trial;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fleet.MachinePlan;
import dev.rimecast.simulator.fleet.SitePlan;
import java.time.Duration;
import java.time.Instant;
import java.util.List;

/** When faults come at once. A step that nobody could have seen says nothing of a detector. */
final class Steps {
    private static final Duration BEFORE = Duration.ofHours(6);
    private static final Duration AFTER = Duration.ofHours(30);

    private final List<FaultPlan> steps;

    Steps(List<FaultPlan> faults) {
        steps = faults.stream().filter(fault -> fault.grows().isZero()).toList();
    }

    /** Whether a step of this site would go unseen if nothing came, or nothing ran, in between. */
    boolean areHidden(SitePlan site, Instant start, Instant end) {
        return steps.stream()
                .filter(step -> site.machines().stream().map(MachinePlan::id).anyMatch(step.machine()::equals))
                .anyMatch(step -> start.isBefore(step.onset().plus(AFTER))
                        && end.isAfter(step.onset().minus(BEFORE)));
    }
}
