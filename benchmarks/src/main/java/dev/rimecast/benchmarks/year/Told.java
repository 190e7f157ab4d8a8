package dev.rimecast.benchmarks.year;

import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import java.time.Instant;

/** Who is told of what comes from a site, as it comes. */
interface Told {
    Told NOBODY = new Told() {};

    default void happened(SiteRecord.Happened event) {}

    default void read(SiteRecord.Pack pack) {}

    /** @param at when it was known */
    default void made(Instant at, Cycle cycle) {}

    /** @param at when it was known */
    default void found(Instant at, Finding finding) {}
}
