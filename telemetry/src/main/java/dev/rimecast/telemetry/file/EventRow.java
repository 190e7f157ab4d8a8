package dev.rimecast.telemetry.file;

import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import java.time.Instant;
import java.util.Optional;

/**
 * One line of {@code events.csv}: what happened that no probe can see. Machine, site or both are there.
 *
 * @param detail cause found, part, kind of complaint; may be empty
 * @param by who says so; may be empty
 * @param job the firm's own job number; may be empty
 */
public record EventRow(
        Instant at,
        Optional<String> machine,
        Optional<String> site,
        EventKind kind,
        String detail,
        String by,
        String job) {

    public EventRow {
        if (machine.isEmpty() && site.isEmpty()) {
            throw new IllegalArgumentException("an event needs a machine or a site: fill one of the two");
        }
    }

    /** The site whose log it belongs to; empty if only a machine is named that is in no register. */
    public Optional<String> siteIn(Register register) {
        return site.isPresent() ? site : machine.flatMap(register::machine).map(Machine::site);
    }

    /** The record of the site's log. */
    public SiteRecord.Happened toRecord() {
        return new SiteRecord.Happened(at, machine, kind, detail, by, job);
    }
}
