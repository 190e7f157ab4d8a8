package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;

/** What is written down when a fault is put right. */
final class Mending {
    private static final Pattern WHAT_IS_WRONG =
            Pattern.compile("-(failed|weak|leaking|loose|not-opening|not-starting)$");

    private Mending() {}

    static List<Happened> events(FaultPlan fault) {
        if (fault.mended().isEmpty()) {
            return List.of();
        }
        Instant at = fault.mended().get();
        List<Happened> events = new ArrayList<>();
        switch (fault.cause().origin()) {
            case SITE -> {
                if (fault.cause() == Cause.AIRFLOW_RESTRICTED) {
                    events.add(event(fault, at, EventKind.AIR_FILTER_WASHED, ""));
                } else {
                    events.add(event(fault, at, EventKind.SITE_ANSWER, "done"));
                }
            }
            case WEAR -> {
                events.add(event(fault, at, EventKind.VISIT, fault.cause().code()));
                if (fault.cause() == Cause.SCALE) {
                    events.add(event(fault, at, EventKind.CLEANED, ""));
                }
            }
            case PART -> {
                events.add(event(fault, at, EventKind.VISIT, fault.cause().code()));
                if (fault.cause() != Cause.PROBES_SWAPPED) {
                    events.add(event(fault, at, EventKind.PART_REPLACED, part(fault.cause())));
                }
            }
            case CIRCUIT ->
                events.add(event(fault, at, EventKind.VISIT, fault.cause().code()));
            case LINK -> {}
        }
        return events;
    }

    /** The part of a cause, e.g. {@code hot-gas-valve} of {@code hot-gas-valve-not-opening}. */
    private static String part(Cause cause) {
        return WHAT_IS_WRONG.matcher(cause.code()).replaceFirst("");
    }

    private static Happened event(FaultPlan fault, Instant at, EventKind kind, String detail) {
        boolean site = kind == EventKind.SITE_ANSWER || kind == EventKind.AIR_FILTER_WASHED;
        return new Happened(at, Optional.of(fault.machine()), kind, detail, site ? "site" : "engineer", "");
    }
}
