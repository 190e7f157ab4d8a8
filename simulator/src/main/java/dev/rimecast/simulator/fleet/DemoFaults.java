package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;

/** What has gone wrong in the demo's fleet, and when, counted back from now. */
final class DemoFaults {
    private DemoFaults() {}

    static List<FaultPlan> faults(Instant now) {
        return List.of(
                // Grease in the condenser: about a week before the machine stops itself.
                growing(now, "lantern-kitchen-2", Cause.AIRFLOW_RESTRICTED, 38, 84, 0.85),
                // A slow leak: pull-down gets longer for weeks.
                growing(now, "hillside-ward-1", Cause.LOW_CHARGE, 40, 75, 0.60),
                growing(now, "harbour-hotel-2", Cause.DRAIN_BLOCKED, 24, 52, 0.62),
                growing(now, "mill-canteen-3", Cause.SCALE, 44, 90, 2.5),
                growing(now, "lantern-kitchen-1", Cause.HOT_GAS_VALVE_LEAKING, 9, 3, 0.12),
                FaultPlan.step("hillside-ward-3", Cause.EVAPORATOR_SENSOR_LOOSE, onDay(now, 6, 11), 0.15),
                FaultPlan.step("mill-canteen-1", Cause.FAN_FAILED, before(now, 20), 1)
                        .mendedAt(onDay(now, 18, 14)),
                FaultPlan.step("harbour-hotel-3", Cause.CURTAIN_MISPLACED, onDay(now, 15, 10), 0.1)
                        .mendedAt(onDay(now, 14, 9)),
                FaultPlan.step("pine-court-3", Cause.LEFT_IN_CLEANING, onDay(now, 1, 9), 1));
    }

    static List<Happened> events(Instant now) {
        return List.of(
                event("harbour-hotel-3", onDay(now, 15, 9), EventKind.CLEANED, ""),
                event("hillside-ward-3", onDay(now, 6, 10), EventKind.VISIT, "planned-care"),
                event("pine-court-3", onDay(now, 1, 9), EventKind.CLEANED, ""),
                event("harbour-hotel-1", onDay(now, 30, 8), EventKind.CLEANED, ""),
                event("lantern-kitchen-3", onDay(now, 33, 15), EventKind.AIR_FILTER_WASHED, ""),
                event("hillside-ward-2", onDay(now, 26, 13), EventKind.WATER_FILTER_CHANGED, ""));
    }

    private static FaultPlan growing(
            Instant now, String machine, Cause cause, double daysAgo, double growsDays, double severity) {
        Duration grows = Duration.ofMinutes(Math.round(growsDays * 1440));
        return FaultPlan.growing(machine, cause, before(now, daysAgo), grows, severity);
    }

    private static Happened event(String machine, Instant at, EventKind kind, String detail) {
        return new Happened(at, Optional.of(machine), kind, detail, "engineer", "");
    }

    private static Instant before(Instant now, double days) {
        return now.minus(Duration.ofMinutes(Math.round(days * 1440)));
    }

    /** Engineers and staff work by day. */
    private static Instant onDay(Instant now, int daysAgo, int hour) {
        return now.truncatedTo(ChronoUnit.DAYS).minus(Duration.ofDays(daysAgo)).plus(Duration.ofHours(hour));
    }
}
