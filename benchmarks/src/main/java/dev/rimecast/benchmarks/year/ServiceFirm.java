package dev.rimecast.benchmarks.year;

import dev.rimecast.simulator.fleet.SimulatedSite;
import dev.rimecast.telemetry.finding.Cause.Origin;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.Instant;
import java.time.ZonedDateTime;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;

/**
 * How people act on what is found, at one site. All of it is common practice, from no source.
 *
 * <ul>
 *   <li>What the site has most probably done itself, it is told at once, and looks an hour later, on every day from eight to
 *       twenty. It looks once for each finding.
 *   <li>An engineer is sent on working days from eight to fourteen, and is there two hours later: at once for what has stopped,
 *       is at its limit, is urgent or high; for what has a date, a week before its early end; for all else ten days after it was
 *       raised. All machines with an open finding are looked at on a trip.
 *   <li>A call for ice of a machine with an open finding, or the second one within three days, is answered on the next working
 *       day. At another the people of the site look themselves: a bin is empty after a feast, too.
 *   <li>Nobody comes again for the same finding for two weeks, unless the machine stands.
 *   <li>A silent gateway is somebody's errand on the same working day.
 * </ul>
 */
final class ServiceFirm {
    private static final int BEGINS = 8;
    private static final int LAST_START = 14;
    private static final int SITE_CLOSES = 20;
    private static final double PROBABLY = 0.5;
    private static final Duration SITE_LOOKS_AFTER = Duration.ofHours(1);
    private static final Duration COMES_AFTER = Duration.ofHours(2);
    private static final Duration BEFORE_THE_DATE = Duration.ofDays(7);
    private static final Duration UNDATED = Duration.ofDays(10);
    private static final Duration CALLS_AGAIN = Duration.ofDays(3);
    private static final Duration SAME_DAY = Duration.ofHours(20);
    private static final Duration NOT_AGAIN = Duration.ofDays(14);

    private final SimulatedSite site;
    private final Map<UUID, Finding> open = new LinkedHashMap<>();
    private final Map<UUID, Instant> lookedAt = new HashMap<>();
    private final Set<UUID> siteLooked = new HashSet<>();
    private final Map<String, Instant> calledAt = new HashMap<>();
    private final TreeSet<String> toLook = new TreeSet<>();
    private final TreeSet<String> calls = new TreeSet<>();
    private Optional<Instant> linkMended = Optional.empty();
    private Instant away = Instant.MIN;
    private int trips;
    private int looks;
    private int mended;
    private int called;

    ServiceFirm(SimulatedSite site) {
        this.site = site;
    }

    void told(Finding finding) {
        if (finding.step() == Step.CLEARED) {
            open.remove(finding.id());
        } else if (!finding.condition().isCare()) {
            open.put(finding.id(), finding);
        }
    }

    void heard(Happened event) {
        if (event.kind() == EventKind.CALL && event.machine().isPresent()) {
            called(event.machine().get(), event.at());
        }
    }

    private void called(String machine, Instant at) {
        Instant before = calledAt.put(machine, at);
        boolean isAgain = before != null && at.isBefore(before.plus(CALLS_AGAIN));
        if (isAgain || open.values().stream().anyMatch(f -> f.machine().equals(Optional.of(machine)))) {
            calls.add(machine);
        } else {
            // Its minute is over in the simulation; they look in the next one.
            toLook.add(machine);
        }
    }

    /** Whoever is at work looks at what is open; to be called once an hour. */
    void look(Instant now) {
        toLook.forEach(machine -> site.siteLooks(machine, now.plus(SITE_LOOKS_AFTER)));
        toLook.clear();
        ZonedDateTime here = now.atZone(site.site().timeZone());
        int hour = here.getHour();
        if (hour >= BEGINS && hour < SITE_CLOSES) {
            siteLooks(now);
        }
        if (hour >= BEGINS && hour <= LAST_START && here.getDayOfWeek().getValue() <= DayOfWeek.FRIDAY.getValue()) {
            engineerMayCome(now, hour == BEGINS);
        }
    }

    private void siteLooks(Instant now) {
        for (Finding finding : open.values()) {
            boolean bySite = finding.causes().stream()
                    .limit(1)
                    .anyMatch(c -> c.cause().origin() == Origin.SITE && c.probability() >= PROBABLY);
            if (bySite && finding.machine().isPresent() && siteLooked.add(finding.id())) {
                site.siteLooks(finding.machine().get(), now.plus(SITE_LOOKS_AFTER));
            }
        }
    }

    private void engineerMayCome(Instant now, boolean inTheMorning) {
        Instant comes = now.plus(COMES_AFTER);
        boolean due = inTheMorning && !calls.isEmpty();
        called += due ? 1 : 0;
        for (Finding finding : open.values()) {
            due |= finding.machine().isPresent() && isDue(finding, now);
            if (finding.condition() == Condition.GATEWAY_SILENT) {
                linkMended = Optional.of(comes);
            }
        }
        if (!due || now.isBefore(away)) {
            return;
        }
        away = comes.plusSeconds(1);
        trips++;
        TreeSet<String> machines = new TreeSet<>();
        if (inTheMorning) {
            machines.addAll(calls);
            calls.clear();
        }
        open.values().forEach(finding -> finding.machine().ifPresent(machines::add));
        for (String machine : machines) {
            looks++;
            if (site.visit(machine, comes)) {
                mended++;
            }
        }
        open.keySet().forEach(id -> lookedAt.put(id, now));
    }

    private boolean isDue(Finding finding, Instant now) {
        boolean atOnce = finding.stage() != Stage.EARLY
                || finding.priority() == Priority.URGENT
                || finding.priority() == Priority.HIGH;
        Instant last = lookedAt.get(finding.id());
        if (last != null
                && now.isBefore(last.plus(NOT_AGAIN))
                && (finding.stage() != Stage.STOPPED || now.isBefore(last.plus(SAME_DAY)))) {
            return false;
        }
        Instant date = finding.limit()
                .map(LimitExpected::early)
                .map(early -> early.minus(BEFORE_THE_DATE))
                .orElse(finding.raisedAt().plus(UNDATED));
        return atOnce || !now.isBefore(date);
    }

    /** Whether somebody has put the gateway's link right after this. */
    boolean hasMendedLinkSince(Instant from) {
        return linkMended
                .filter(at -> at.isAfter(from) && !site.now().isBefore(at))
                .isPresent();
    }

    int trips() {
        return trips;
    }

    int looks() {
        return looks;
    }

    int mended() {
        return mended;
    }

    int called() {
        return called;
    }
}
