package dev.rimecast.alerts.register;

import dev.rimecast.alerts.advice.SiteAnswer;
import dev.rimecast.alerts.store.AlertAnswers;
import dev.rimecast.alerts.store.CaseStore;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.Outbox;
import dev.rimecast.alerts.store.RegisterStore;
import dev.rimecast.alerts.store.SiteEventStore;
import dev.rimecast.alerts.store.SiteLocks;
import dev.rimecast.alerts.store.WeighedQuery;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.alerts.view.EventView;
import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.WeighedHarvest;
import dev.rimecast.alerts.view.Writing;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.log.SiteRecord.WarmestOfDay;
import dev.rimecast.telemetry.log.SiteRecord.WeatherExpected;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Consumer;
import org.jdbi.v3.core.Handle;

/** Calls, visits, cleanings and whatever else no probe can see: into the database, a call's case, and the site's log. */
public final class SiteEvents implements Events {
    /** So many reports share a transaction, and so a write to disk. */
    private static final int AT_ONCE = 200;

    private final Database database;
    private final CaseStore cases;
    private final InstantSource clock;
    private final Runnable wakePublisher;
    private final Consumer<Collection<Change>> afterCommit;

    /** @param afterCommit told what changed, once it is committed */
    public SiteEvents(
            Database database,
            CaseStore cases,
            InstantSource clock,
            Runnable wakePublisher,
            Consumer<Collection<Change>> afterCommit) {
        this.database = database;
        this.cases = cases;
        this.clock = clock;
        this.wakePublisher = wakePublisher;
        this.afterCommit = afterCommit;
    }

    /**
     * For the product itself, whatever the time. Returns once it is stored; it reaches the site's log soon after, and
     * does so even if the process ends now.
     *
     * @throws IllegalArgumentException if there is no such site, or the machine does not stand on it
     */
    public void report(Happened event, String site) {
        database.jdbi().useTransaction(handle -> {
            check(handle, event, site);
            SiteLocks.take(handle, List.of(site));
            add(handle, event, site, Optional.empty());
        });
        wakePublisher.run();
    }

    private static void check(Handle handle, Happened event, String site) {
        if (RegisterStore.site(handle, site).isEmpty()) {
            throw new IllegalArgumentException("there is no site " + site);
        }
        event.machine().ifPresent(id -> {
            String at = RegisterStore.machine(handle, id)
                    .orElseThrow(() -> new IllegalArgumentException("there is no machine " + id))
                    .site();
            if (!at.equals(site)) {
                throw new IllegalArgumentException("machine " + id + " stands on site " + at + ", not on " + site);
            }
        });
    }

    private EventView add(Handle handle, Happened event, String site, Optional<SiteEventStore.Entry> entry) {
        long row = SiteEventStore.add(handle, site, event, entry);
        if (event.kind() == EventKind.CALL) {
            cases.call(handle, site, row, event);
        }
        SiteAnswer.words(event.kind(), event.detail())
                .ifPresent(words -> AlertAnswers.reported(handle, event, entry.map(SiteEventStore.Entry::by), words));
        Outbox.toSite(handle, site, event);
        return SiteEventStore.one(handle, row);
    }

    @Override
    public List<EventView> ofMachine(SiteScope sites, String machine, Optional<Long> before, int limit) {
        return database.jdbi().withHandle(handle -> SiteEventStore.ofMachine(handle, sites, machine, before, limit));
    }

    @Override
    public List<EventView> ofSite(SiteScope sites, String site, Optional<Long> before, int limit) {
        return database.jdbi().withHandle(handle -> SiteEventStore.ofSite(handle, sites, site, before, limit));
    }

    @Override
    public List<EventView> newestOf(SiteScope sites, String machine, Set<EventKind> kinds) {
        return database.jdbi().withHandle(handle -> SiteEventStore.newestOf(handle, sites, machine, kinds));
    }

    @Override
    public List<WeighedHarvest> weighed(SiteScope sites, String machine, int limit) {
        return database.jdbi()
                .withHandle(handle -> RegisterStore.machine(handle, machine)
                        .map(known -> WeighedQuery.ofMachine(handle, sites, known, limit))
                        .orElse(List.of()));
    }

    @Override
    public List<Outcome> report(SiteScope sites, List<Report> reports, Person who) {
        List<Outcome> outcomes = new ArrayList<>();
        for (int from = 0; from < reports.size(); from += AT_ONCE) {
            List<Report> some = reports.subList(from, Math.min(from + AT_ONCE, reports.size()));
            List<Outcome> ended = database.jdbi().inTransaction(handle -> some(handle, sites, some, who));
            outcomes.addAll(ended);
            tell(ended);
        }
        return outcomes;
    }

    private List<Outcome> some(Handle handle, SiteScope sites, List<Report> reports, Person who) {
        Instant now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
        List<Placed> placed = reports.stream()
                .map(report -> place(handle, sites, report, now))
                .toList();
        TreeSet<String> touched = new TreeSet<>();
        placed.stream().filter(each -> each.wrong().isEmpty()).forEach(each -> touched.add(each.site()));
        SiteLocks.take(handle, touched);
        List<Outcome> outcomes = new ArrayList<>();
        for (Placed each : placed) {
            outcomes.add(each.wrong().orElseGet(() -> store(handle, each, new SiteEventStore.Entry(who.name(), now))));
        }
        return outcomes;
    }

    /**
     * One more of a transaction that somebody else ends, who holds the site's lock, has checked it, and wakes the
     * publisher afterwards. What says the same already stands.
     */
    void addNew(Handle handle, Happened event, String site, SiteEventStore.Entry entry) {
        if (SiteEventStore.same(handle, site, event).isEmpty()) {
            add(handle, event, site, Optional.of(entry));
        }
    }

    @Override
    public Set<String> expectWeather(SiteScope sites, Map<String, List<WarmestOfDay>> days) {
        Instant now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
        Set<String> missing = new TreeSet<>();
        database.jdbi().useTransaction(handle -> {
            // Sites in order, as everybody takes their locks.
            for (Map.Entry<String, List<WarmestOfDay>> site : new TreeMap<>(days).entrySet()) {
                if (!sites.includes(site.getKey())
                        || RegisterStore.site(handle, site.getKey()).isEmpty()) {
                    missing.add(site.getKey());
                } else {
                    Outbox.toSite(handle, site.getKey(), new WeatherExpected(now, site.getValue()));
                }
            }
        });
        wakePublisher.run();
        return missing;
    }

    private Outcome store(Handle handle, Placed placed, SiteEventStore.Entry entry) {
        Optional<EventView> known = SiteEventStore.same(handle, placed.site(), placed.event());
        return known.<Outcome>map(Outcome.Known::new)
                .orElseGet(() -> new Outcome.Added(add(handle, placed.event(), placed.site(), Optional.of(entry))));
    }

    /**
     * A report with the site that it belongs to.
     *
     * @param wrong why it can't be stored
     */
    private record Placed(Happened event, String site, Optional<Outcome> wrong) {}

    private static Placed place(Handle handle, SiteScope sites, Report report, Instant now) {
        Happened event = new Happened(
                report.at().orElse(now).truncatedTo(ChronoUnit.MILLIS),
                report.machine(),
                report.kind(),
                report.detail(),
                report.by(),
                report.job());
        Optional<String> stands = report.machine()
                .flatMap(id -> RegisterStore.machine(handle, id))
                .map(Machine::site)
                .filter(sites::includes);
        if (report.machine().isPresent() && stands.isEmpty()) {
            return wrong(
                    event, new Outcome.NotFound("No machine " + report.machine().get() + " in the register."));
        }
        String site = report.site().or(() -> stands).orElseThrow();
        if (!sites.includes(site) || RegisterStore.site(handle, site).isEmpty()) {
            return wrong(event, new Outcome.NotFound("No site " + site + " in the register."));
        }
        Optional<Outcome> refused = stands.filter(at -> !at.equals(site))
                .<Outcome>map(at -> new Outcome.Refused("machine", "stands on site " + at + ", not on " + site))
                .or(() -> refused(event, now));
        return new Placed(event, site, refused);
    }

    private static Placed wrong(Happened event, Outcome outcome) {
        return new Placed(event, "", Optional.of(outcome));
    }

    private static Optional<Outcome> refused(Happened event, Instant now) {
        if (Duration.between(now, event.at()).compareTo(MOST_AHEAD) > 0) {
            return refused("time", "is in the future: report what has happened, once it has");
        }
        if (Duration.between(event.at(), now).compareTo(OLDEST) > 0) {
            return refused(
                    "time",
                    "is more than " + OLDEST.toDays() + " days ago, further back than detection looks:"
                            + " such a report would change nothing");
        }
        Optional<String> machine = event.machine().isPresent()
                ? Optional.empty()
                : event.kind()
                        .wrongWithoutMachine()
                        .or(() -> SiteAnswer.wrongWithoutMachine(event.kind(), event.detail()));
        if (machine.isPresent()) {
            return refused("machine", machine.get());
        }
        Optional<String> detail =
                event.kind().wrongDetail(event.detail()).or(() -> SiteAnswer.wrongDetail(event.kind(), event.detail()));
        if (detail.isPresent()) {
            return refused("detail", detail.get());
        }
        return wrongText("detail", event.detail())
                .or(() -> wrongText("by", event.by()))
                .or(() -> wrongText("job", event.job()));
    }

    private static Optional<Outcome> wrongText(String member, String text) {
        if (!Writing.canBeKept(text)) {
            return refused(member, Writing.WRONG);
        }
        return text.length() <= LONGEST_TEXT
                ? Optional.empty()
                : refused(member, "must be at most " + LONGEST_TEXT + " characters");
    }

    private static Optional<Outcome> refused(String member, String reason) {
        return Optional.of(new Outcome.Refused(member, reason));
    }

    private void tell(List<Outcome> outcomes) {
        List<Change> changes = outcomes.stream()
                .filter(Outcome.Added.class::isInstance)
                .map(outcome -> ((Outcome.Added) outcome).event())
                .map(event -> new Change("alert", event.site(), event.machine().orElse(""), ""))
                .distinct()
                .toList();
        if (!changes.isEmpty()) {
            wakePublisher.run();
            afterCommit.accept(changes);
        }
    }
}
