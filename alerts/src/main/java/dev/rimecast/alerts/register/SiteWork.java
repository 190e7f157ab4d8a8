package dev.rimecast.alerts.register;

import dev.rimecast.alerts.store.CaseStore;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.OutcomeQuery;
import dev.rimecast.alerts.store.PastQuery;
import dev.rimecast.alerts.store.PhotoStore;
import dev.rimecast.alerts.store.RegisterStore;
import dev.rimecast.alerts.store.SiteEventStore;
import dev.rimecast.alerts.store.SiteLocks;
import dev.rimecast.alerts.store.StoredVisits;
import dev.rimecast.alerts.store.WorkStore;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.FoundCause;
import dev.rimecast.alerts.work.MissedCall;
import dev.rimecast.alerts.work.Past;
import dev.rimecast.alerts.work.StoredWork;
import dev.rimecast.alerts.work.Work;
import dev.rimecast.alerts.work.WorkEvents;
import dev.rimecast.alerts.work.WorkReport;
import dev.rimecast.alerts.work.WorkRules;
import dev.rimecast.alerts.work.photo.PlainJpeg;
import dev.rimecast.alerts.work.photo.StoredPhoto;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import org.jdbi.v3.core.Handle;

/**
 * Reports of work into the database, their case, and the site's log, all in one transaction: a report is stored exactly
 * where its events are on their way.
 */
public final class SiteWork implements Work {
    private final Database database;
    private final SiteEvents events;
    private final CaseStore cases;
    private final InstantSource clock;
    private final Runnable wakePublisher;
    private final Consumer<Collection<Change>> afterCommit;

    /** @param afterCommit told what changed, once it is committed */
    public SiteWork(
            Database database,
            SiteEvents events,
            CaseStore cases,
            InstantSource clock,
            Runnable wakePublisher,
            Consumer<Collection<Change>> afterCommit) {
        this.database = database;
        this.events = events;
        this.cases = cases;
        this.clock = clock;
        this.wakePublisher = wakePublisher;
        this.afterCommit = afterCommit;
    }

    @Override
    public Outcome report(SiteScope sites, String machine, WorkReport report, Person who) {
        Outcome outcome = database.jdbi().inTransaction(handle -> enter(handle, sites, machine, report, who));
        if (outcome instanceof Outcome.Added added) {
            wakePublisher.run();
            afterCommit.accept(List.of(new Change("alert", added.work().site(), machine, "")));
        }
        return outcome;
    }

    private Outcome enter(Handle handle, SiteScope sites, String id, WorkReport given, Person who) {
        Optional<Machine> machine = RegisterStore.machine(handle, id).filter(known -> sites.includes(known.site()));
        if (machine.isEmpty()) {
            return new Outcome.NotFound("No machine " + id + " in the register.");
        }
        String site = machine.get().site();
        SiteLocks.take(handle, List.of(site));
        Optional<StoredWork> known = WorkStore.one(handle, SiteScope.EVERY, given.id());
        if (known.isPresent()) {
            return known.filter(work -> work.machine().equals(id) && sites.includes(work.site()))
                    .<Outcome>map(Outcome.Known::new)
                    .orElseGet(() -> new Outcome.Refused("id", "is that of a report of another machine"));
        }
        Instant now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
        return WorkRules.wrong(given, now)
                .<Outcome>map(wrong -> new Outcome.Refused(wrong.member(), wrong.reason()))
                .or(() -> given.caseId()
                        .filter(named -> !CaseStore.isOn(handle, named, site))
                        .map(named -> new Outcome.Refused("caseId", "is none of the machine's site")))
                .or(() -> given.visit()
                        .filter(named -> !StoredVisits.isTo(handle, named, site))
                        .map(named -> new Outcome.Refused("visit", "is none to the machine's site")))
                .orElseGet(() -> new Outcome.Added(store(handle, site, id, given, who, now)));
    }

    private StoredWork store(Handle handle, String site, String machine, WorkReport given, Person who, Instant now) {
        String found = given.found().text().isEmpty()
                ? given.found().code()
                : given.found().text();
        Optional<UUID> inCase = cases.work(
                handle,
                site,
                machine,
                given.caseId(),
                given.at(),
                given.by().isEmpty() ? who.name() : given.by(),
                found);
        StoredWork work = new StoredWork(given.inCase(inCase), site, machine, who.name(), now);
        WorkStore.add(handle, work);
        SiteEventStore.Entry entry = new SiteEventStore.Entry(who.name(), now);
        WorkEvents.of(machine, given).forEach(event -> events.addNew(handle, event, site, entry));
        return work;
    }

    /** A photo changes nothing that is decided: it is in no site's log. */
    @Override
    public PhotoOutcome addPhoto(SiteScope sites, UUID report, UUID id, PlainJpeg photo, Person who) {
        Optional<StoredWork> work = one(sites, report);
        if (work.isEmpty()) {
            return new PhotoOutcome.NotFound();
        }
        PhotoOutcome outcome =
                database.jdbi().inTransaction(handle -> enter(handle, work.get().site(), report, id, photo, who));
        if (outcome instanceof PhotoOutcome.Added) {
            afterCommit.accept(
                    List.of(new Change("alert", work.get().site(), work.get().machine(), "")));
        }
        return outcome;
    }

    private PhotoOutcome enter(Handle handle, String site, UUID report, UUID id, PlainJpeg photo, Person who) {
        SiteLocks.take(handle, List.of(site));
        Optional<PhotoStore.OfReport> known = PhotoStore.one(handle, id);
        if (known.isPresent()) {
            return known.get().report().equals(report)
                    ? new PhotoOutcome.Known(known.get().photo())
                    : new PhotoOutcome.Elsewhere();
        }
        int already = PhotoStore.of(handle, List.of(report))
                .getOrDefault(report, List.of())
                .size();
        if (already >= StoredWork.MOST_PHOTOS) {
            return new PhotoOutcome.Full();
        }
        StoredPhoto stored = new StoredPhoto(
                id,
                photo.width(),
                photo.height(),
                photo.bytes().length,
                photo.sha256(),
                who.name(),
                clock.instant().truncatedTo(ChronoUnit.MILLIS));
        PhotoStore.add(handle, report, stored, photo);
        return new PhotoOutcome.Added(stored);
    }

    @Override
    public Optional<byte[]> photo(SiteScope sites, UUID report, UUID id) {
        return database.jdbi()
                .withHandle(handle -> WorkStore.one(handle, sites, report)
                        .flatMap(work -> PhotoStore.jpeg(handle, work.report().id(), id)));
    }

    @Override
    public List<StoredWork> ofMachine(SiteScope sites, String machine, Optional<UUID> after, int limit) {
        return database.jdbi().withHandle(handle -> WorkStore.ofMachine(handle, sites, machine, after, limit));
    }

    @Override
    public Optional<StoredWork> one(SiteScope sites, UUID id) {
        return database.jdbi().withHandle(handle -> WorkStore.one(handle, sites, id));
    }

    @Override
    public List<StoredWork> between(SiteScope sites, Optional<String> machine, Instant from, Instant to) {
        return database.jdbi().withHandle(handle -> WorkStore.between(handle, sites, machine, from, to));
    }

    @Override
    public List<FoundCause> outcomes(SiteScope sites) {
        return database.jdbi().withHandle(handle -> OutcomeQuery.outcomes(handle, sites));
    }

    @Override
    public List<MissedCall> missedCalls(SiteScope sites, Instant from, Instant to) {
        return database.jdbi().withHandle(handle -> OutcomeQuery.missedCalls(handle, sites, from, to));
    }

    @Override
    public Past past(SiteScope sites, Instant from, Instant to) {
        return database.jdbi().withHandle(handle -> PastQuery.past(handle, sites, from, to));
    }
}
