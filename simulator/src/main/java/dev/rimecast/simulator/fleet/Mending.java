package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What is written down when a fault is put right. */
final class Mending {
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
                events.add(event(fault, at, EventKind.PART_REPLACED, part(fault.cause())));
            }
            case CIRCUIT ->
                events.add(event(fault, at, EventKind.VISIT, fault.cause().code()));
            case LINK -> {}
        }
        return events;
    }

    private static String part(Cause cause) {
        String code = cause.code();
        int last = code.lastIndexOf('-');
        return last < 0 ? code : code.substring(0, last);
    }

    private static Happened event(FaultPlan fault, Instant at, EventKind kind, String detail) {
        boolean site = kind == EventKind.SITE_ANSWER || kind == EventKind.AIR_FILTER_WASHED;
        return new Happened(at, Optional.of(fault.machine()), kind, detail, site ? "site" : "engineer", "");
    }
}
