package dev.rimecast.alerts.view;

import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.WarmestOfDay;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Calls, visits, cleanings and whatever else no probe can see: what was reported, and reporting it. Safe for many
 * threads.
 *
 * <p>A report is a record of its site's log for good: nothing takes it out again. A wrong one is put right by another.
 */
public interface Events {
    /** How much later than now a report may be: the same that a reading may. */
    Duration MOST_AHEAD = Duration.ofMinutes(10);

    /** How old a report may be: detection looks back no further. */
    Duration OLDEST = Duration.ofDays(60);

    /** The longest detail, name or job number, in characters. */
    int LONGEST_TEXT = 200;

    /**
     * What a machine's page lists: its own, and those of its site as a whole.
     *
     * @param sites only those of these sites
     * @param before only those that come after this one in the order; absent for the first ones
     * @return newest first
     */
    List<EventView> ofMachine(SiteScope sites, String machine, Optional<Long> before, int limit);

    /** Of a site and its machines, in the same order. */
    List<EventView> ofSite(SiteScope sites, String site, Optional<Long> before, int limit);

    /** The newest of each kind that was reported of the machine itself, in the order of the kinds. */
    List<EventView> newestOf(SiteScope sites, String machine, Set<EventKind> kinds);

    /**
     * Stores reports, each for itself: a bad one does not spoil the others. The same report again adds nothing.
     *
     * @param sites where it may report; what is elsewhere is not there
     * @return one outcome for each report, in the same order
     */
    List<Outcome> report(SiteScope sites, List<Report> reports, Person who);

    /**
     * Tells the logs of sites what weather is expected there, for the dates of forecasts. What is told later of the same
     * day goes before what was told earlier.
     *
     * @param sites where it may tell; what is elsewhere is not there
     * @param days of each site, in order of their dates
     * @return the sites that are not there
     */
    Set<String> expectWeather(SiteScope sites, Map<String, List<WarmestOfDay>> days);

    /** Harvests of a machine that somebody weighed, the newest first. */
    List<WeighedHarvest> weighed(SiteScope sites, String machine, int limit);

    /**
     * What somebody reports.
     *
     * @param site may be left out where there is a machine
     * @param at absent for now
     */
    record Report(
            Optional<String> site,
            Optional<String> machine,
            Optional<Instant> at,
            EventKind kind,
            String detail,
            String by,
            String job) {
        public Report {
            if (site.isEmpty() && machine.isEmpty()) {
                throw new IllegalArgumentException("a report needs a machine or a site");
            }
        }
    }

    /** How a report ended. */
    sealed interface Outcome {
        record Added(EventView event) implements Outcome {}

        /**
         * It is there already: the same kind, time, place and job number; without a job number, and for parts and
         * answers, of which a job may have several, the same detail, too. What was stored first stands.
         */
        record Known(EventView event) implements Outcome {}

        /** @param what the machine or site that is not there, in words */
        record NotFound(String what) implements Outcome {}

        /**
         * @param member which part of the report, as in {@code events.csv}
         * @param reason what is wrong with it, in words after the member's name
         */
        record Refused(String member, String reason) implements Outcome {}
    }
}
