package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.log.EventKind;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What the people of one site write down. */
final class Logbook {
    private final String site;
    private final List<EventRow> events = new ArrayList<>();
    private int visits;

    Logbook(String site) {
        this.site = site;
    }

    void tell(long t, String machine, EventKind kind, String detail, String by) {
        add(t, machine, kind, detail, by, "");
    }

    void visit(long t, String machine, String detail) {
        visits++;
        add(t, machine, EventKind.VISIT, detail, "engineer", String.format("j-%s-%03d", site, visits));
    }

    private void add(long t, String machine, EventKind kind, String detail, String by, String job) {
        Instant at = Instant.ofEpochSecond(t);
        events.add(new EventRow(at, Optional.of(machine), Optional.of(site), kind, detail, by, job));
    }

    List<EventRow> until(long end) {
        Instant last = Instant.ofEpochSecond(end);
        return events.stream().filter(event -> event.at().isBefore(last)).toList();
    }
}
