package dev.rimecast.analytics.watch;

import dev.rimecast.telemetry.cycle.Feature;

/** What is said when a change is over. */
final class Ending {
    private Ending() {}

    static String of(Feature feature) {
        return switch (feature) {
            case PULL_DOWN -> "Pull-down is as it should be again.";
            case FREEZE -> "Freezes are as long as they should be again.";
            case HARVEST -> "Harvests are as long as they should be again.";
            case SPLIT -> "Condensing temperature over ambient is as it should be again.";
            case EVAPORATOR_END -> "The evaporator gets as cold as it should again.";
            case DRAIN_LEVEL, DRAIN_RUN -> "The drain runs as long as it should again.";
            case FILL -> "Fills are as long as they should be again.";
            case WATER_USE -> "The machine takes as much water as it should again.";
            case ICE_MADE -> "The machine makes as much ice as it should again.";
        };
    }
}
