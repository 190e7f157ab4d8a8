package dev.rimecast.alerts.work;

import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * A report as events of the site's log, which detection re-bases by: the visit with what was found, then what was done, each
 * once. Things that no kind of event can say (adjusted, instructed, discarded) are in the report only.
 */
public final class WorkEvents {
    /** What detection knows a change of charge by. */
    static final String CHARGE = "refrigerant charge";

    private WorkEvents() {}

    /** @return all at the report's time, with its job number and name */
    public static List<Happened> of(String machine, WorkReport report) {
        List<Happened> events = new ArrayList<>();
        events.add(event(machine, report, EventKind.VISIT, found(report.found())));
        Map<EventKind, Set<String>> done = new LinkedHashMap<>();
        for (Done each : report.done()) {
            each.deed()
                    .event()
                    .ifPresent(kind -> done.computeIfAbsent(kind, k -> new LinkedHashSet<>())
                            .add(detail(each)));
        }
        done.forEach((kind, details) -> {
            if (kind == EventKind.PART_REPLACED || kind == EventKind.SENSOR_REPLACED) {
                details.forEach(detail -> events.add(event(machine, report, kind, detail)));
            } else {
                details.remove("");
                events.add(event(machine, report, kind, String.join(", ", details)));
            }
        });
        return List.copyOf(events);
    }

    private static Happened event(String machine, WorkReport report, EventKind kind, String detail) {
        return new Happened(report.at(), Optional.of(machine), kind, detail, report.by(), report.job());
    }

    /** The cause's code, {@code nothing-found}, or the engineer's words. */
    private static String found(Found found) {
        return found instanceof Found.SomethingElse other ? other.text() : found.code();
    }

    private static String detail(Done done) {
        if (done.deed().isRefrigerant()) {
            return CHARGE;
        }
        return done.deed() == Deed.DESCALED ? Deed.DESCALED.code() : done.detail();
    }
}
