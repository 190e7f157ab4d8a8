package dev.rimecast.telemetry.log;

import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/**
 * One record of a site's log. The log alone, from its beginning, gives every decision again: nothing that can change
 * one reaches the monitor by another way, and time passes only by records.
 */
public sealed interface SiteRecord {

    /**
     * Good readings of one message, in the order in which the gateway wrote them; times resolved once, at ingest.
     *
     * @param number the gateway's own count, where it keeps one
     * @param receivedAt when ingest took it in, by ingest's clock
     * @param readings may be empty: every numbered pack leaves a record, even one that was wholly rejected
     * @param rejected how many records of the message were rejected
     */
    record Pack(String gateway, Optional<PackNumber> number, Instant receivedAt, List<Reading> readings, int rejected)
            implements SiteRecord {
        public Pack {
            readings = List.copyOf(readings);
            if (rejected < 0) {
                throw new IllegalArgumentException("rejected must not be negative, was " + rejected);
            }
        }
    }

    /** A machine's row in the register, new or changed, in force from here on. */
    record Registered(Instant at, Machine machine) implements SiteRecord {}

    /** A machine's row has ended: it left this site or the register. */
    record Unregistered(Instant at, String machine) implements SiteRecord {}

    /** What is known of the site itself, in force from here on. */
    record SiteChanged(Instant at, Site site) implements SiteRecord {}

    /**
     * A policy takes effect here.
     *
     * @param version its name
     * @param yaml its whole text, so that the log needs nothing beside it
     */
    record PolicyActivated(Instant at, String version, String yaml) implements SiteRecord {}

    /**
     * What happened that no probe can see.
     *
     * @param machine empty where the event is the site's
     * @param kind what happened
     * @param detail cause found, part, kind of complaint; may be empty
     * @param by who says so; may be empty
     * @param job the firm's own job number; may be empty
     */
    record Happened(Instant at, Optional<String> machine, EventKind kind, String detail, String by, String job)
            implements SiteRecord {}

    /**
     * The weather that is expected at the site; a later record of the same days goes before an earlier one.
     *
     * @param days in order of their dates
     */
    record WeatherExpected(Instant at, List<WarmestOfDay> days) implements SiteRecord {
        public WeatherExpected {
            days = List.copyOf(days);
        }
    }

    /**
     * One day's weather.
     *
     * @param date in the site's own time zone
     * @param maxCelsius warmest out of doors, °C
     */
    record WarmestOfDay(LocalDate date, double maxCelsius) {
        public WarmestOfDay {
            if (!Double.isFinite(maxCelsius)) {
                throw new IllegalArgumentException("the weather of " + date + " must be finite, was " + maxCelsius);
            }
        }
    }

    /** A gateway came or went, as the broker or the endpoint saw it. */
    record Presence(Instant at, String gateway, boolean online) implements SiteRecord {}

    /**
     * A minute has passed, and ingest was there to see it.
     *
     * @param at a whole minute of ingest's clock
     */
    record Tick(Instant at) implements SiteRecord {}
}
