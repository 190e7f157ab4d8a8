package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.advice.SiteAnswer;
import dev.rimecast.alerts.view.EventView;
import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.WeighedHarvest;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.HarvestWeight;
import dev.rimecast.telemetry.log.SiteRecord.WarmestOfDay;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Predicate;

/** Reports in memory, by the same rules of time, place and repetition. */
final class FakeEvents implements Events {
    private static final Comparator<EventView> NEWEST_FIRST =
            Comparator.comparing(EventView::at).thenComparing(EventView::id).reversed();

    private final FakeFleet fleet;
    private final FakeChanges changes;
    private final InstantSource clock;
    private final List<EventView> events = new ArrayList<>();
    private final Map<String, List<WarmestOfDay>> weather = new TreeMap<>();

    private FakeEvents(FakeFleet fleet, FakeChanges changes, InstantSource clock) {
        this.fleet = fleet;
        this.changes = changes;
        this.clock = clock;
    }

    static FakeEvents small(FakeFleet fleet, FakeChanges changes, InstantSource clock) {
        FakeEvents fake = new FakeEvents(fleet, changes, clock);
        Instant now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
        fleet.machine("ice-0003").ifPresent(view -> {
            String site = view.site().id();
            fake.put(site, "ice-0003", now.minus(Duration.ofDays(40)), EventKind.CLEANED, "", "Pim", "J-2201");
            fake.put(
                    site,
                    "ice-0003",
                    now.minus(Duration.ofDays(12)),
                    EventKind.VISIT,
                    "airflow-restricted",
                    "Pim",
                    "J-2290");
            fake.put(site, "", now.minus(Duration.ofHours(5)), EventKind.CALL, "little-ice", "Bar", "");
        });
        return fake;
    }

    private EventView put(
            String site, String machine, Instant at, EventKind kind, String detail, String by, String job) {
        return put(site, machine, at, kind, detail, by, job, "Noor");
    }

    private EventView put(
            String site,
            String machine,
            Instant at,
            EventKind kind,
            String detail,
            String by,
            String job,
            String enteredBy) {
        EventView event = new EventView(
                events.size() + 1L,
                at,
                site,
                Optional.of(machine).filter(id -> !id.isEmpty()),
                kind,
                detail,
                by,
                job,
                Optional.of(enteredBy),
                Optional.of(clock.instant()),
                Optional.empty());
        events.add(event);
        return event;
    }

    @Override
    public List<EventView> ofMachine(SiteScope sites, String machine, Optional<Long> before, int limit) {
        String stands = fleet.machine(machine).map(view -> view.site().id()).orElse("");
        return list(
                event ->
                        event.machine().map(machine::equals).orElse(event.site().equals(stands)),
                sites,
                before,
                limit);
    }

    @Override
    public List<EventView> ofSite(SiteScope sites, String site, Optional<Long> before, int limit) {
        return list(event -> event.site().equals(site), sites, before, limit);
    }

    @Override
    public synchronized List<EventView> newestOf(SiteScope sites, String machine, Set<EventKind> kinds) {
        return kinds.stream()
                .sorted()
                .flatMap(kind -> events.stream()
                        .filter(event -> event.kind() == kind && sites.includes(event.site()))
                        .filter(event -> event.machine().equals(Optional.of(machine)))
                        .max(Comparator.comparing(EventView::at))
                        .stream())
                .toList();
    }

    private synchronized List<EventView> list(
            Predicate<EventView> of, SiteScope sites, Optional<Long> before, int limit) {
        List<EventView> ordered = events.stream()
                .filter(of)
                .filter(event -> sites.includes(event.site()))
                .sorted(NEWEST_FIRST)
                .toList();
        Optional<EventView> last =
                before.flatMap(id -> ordered.stream().filter(e -> e.id() == id).findFirst());
        return ordered.stream()
                .filter(event ->
                        last.map(l -> NEWEST_FIRST.compare(event, l) > 0).orElse(before.isEmpty()))
                .limit(limit)
                .toList();
    }

    @Override
    public synchronized List<WeighedHarvest> weighed(SiteScope sites, String machine, int limit) {
        return events.stream()
                .filter(event -> event.kind() == EventKind.HARVEST_WEIGHED && sites.includes(event.site()))
                .filter(event -> event.machine().equals(Optional.of(machine)))
                .sorted(NEWEST_FIRST)
                .limit(limit)
                .map(event -> {
                    double kilograms = HarvestWeight.kilograms(event.detail()).orElseThrow();
                    Duration cycle = Duration.ofSeconds(1500);
                    return new WeighedHarvest(
                            event.at(),
                            kilograms,
                            event.by(),
                            Optional.of(new WeighedHarvest.Rate(cycle, kilograms * 57.6, 55)));
                })
                .toList();
    }

    @Override
    public synchronized List<Outcome> report(SiteScope sites, List<Report> reports, Person who) {
        return reports.stream().map(report -> report(sites, report, who)).toList();
    }

    private Outcome report(SiteScope sites, Report report, Person who) {
        Instant now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
        Instant at = report.at().orElse(now);
        Optional<String> stands = report.machine()
                .flatMap(fleet::machine)
                .map(view -> view.site().id())
                .filter(sites::includes);
        if (report.machine().isPresent() && stands.isEmpty()) {
            return new Outcome.NotFound("No machine " + report.machine().get() + " in the register.");
        }
        String site = report.site().or(() -> stands).orElseThrow();
        if (!sites.includes(site) || fleet.sites().stream().map(Site::id).noneMatch(site::equals)) {
            return new Outcome.NotFound("No site " + site + " in the register.");
        }
        if (at.isAfter(now.plus(MOST_AHEAD))) {
            return new Outcome.Refused("time", "is in the future: report what has happened, once it has");
        }
        if (at.isBefore(now.minus(OLDEST))) {
            return new Outcome.Refused("time", "is more than 60 days ago");
        }
        Optional<String> bare = report.machine().isPresent()
                ? Optional.empty()
                : report.kind()
                        .wrongWithoutMachine()
                        .or(() -> SiteAnswer.wrongWithoutMachine(report.kind(), report.detail()));
        if (bare.isPresent()) {
            return new Outcome.Refused("machine", bare.get());
        }
        Optional<String> detail = report.kind()
                .wrongDetail(report.detail())
                .or(() -> SiteAnswer.wrongDetail(report.kind(), report.detail()));
        if (detail.isPresent()) {
            return new Outcome.Refused("detail", detail.get());
        }
        Optional<EventView> known = events.stream()
                .filter(e -> e.site().equals(site)
                        && e.machine().equals(report.machine())
                        && e.at().equals(at)
                        && e.kind() == report.kind()
                        && e.job().equals(report.job()))
                .findFirst();
        if (known.isPresent()) {
            return new Outcome.Known(known.get());
        }
        EventView added = put(
                site,
                report.machine().orElse(""),
                at,
                report.kind(),
                report.detail(),
                report.by(),
                report.job(),
                who.name());
        report.machine().ifPresent(machine -> changes.publish("alert", site, machine, ""));
        return new Outcome.Added(added);
    }

    @Override
    public Set<String> expectWeather(SiteScope sites, Map<String, List<WarmestOfDay>> days) {
        Set<String> missing = new TreeSet<>();
        days.forEach((site, told) -> {
            if (sites.includes(site)
                    && fleet.sites().stream().anyMatch(each -> each.id().equals(site))) {
                weather.put(site, told);
            } else {
                missing.add(site);
            }
        });
        return missing;
    }

    /** What was told last of each site. */
    Map<String, List<WarmestOfDay>> weather() {
        return weather;
    }
}
