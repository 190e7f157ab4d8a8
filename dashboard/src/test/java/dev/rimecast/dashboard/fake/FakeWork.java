package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.Events;
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
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.proof.Verdict;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;

/** Reports of work in memory, by the same rules. */
public final class FakeWork implements Work {
    private final FakeFleet fleet;
    private final Events events;
    private final InstantSource clock;
    private final Map<UUID, StoredWork> stored = new LinkedHashMap<>();
    private final Map<UUID, byte[]> pictures = new LinkedHashMap<>();
    private int received;
    private int photosReceived;

    FakeWork(FakeFleet fleet, Events events, InstantSource clock) {
        this.fleet = fleet;
        this.events = events;
        this.clock = clock;
    }

    /** How many times a report came in, repeats counted. */
    public synchronized int received() {
        return received;
    }

    /** How many times a photo came in, repeats counted. */
    public synchronized int photosReceived() {
        return photosReceived;
    }

    public synchronized List<StoredWork> all() {
        return List.copyOf(stored.values());
    }

    @Override
    public synchronized Outcome report(SiteScope sites, String machine, WorkReport report, Person who) {
        received++;
        Optional<String> site =
                fleet.machine(machine).map(view -> view.site().id()).filter(sites::includes);
        if (site.isEmpty()) {
            return new Outcome.NotFound("No machine " + machine + " in the register.");
        }
        StoredWork known = stored.get(report.id());
        if (known != null) {
            return known.machine().equals(machine)
                    ? new Outcome.Known(known)
                    : new Outcome.Refused("id", "is that of a report of another machine");
        }
        Instant now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
        Optional<Outcome> wrong =
                WorkRules.wrong(report, now).map(each -> new Outcome.Refused(each.member(), each.reason()));
        if (wrong.isPresent()) {
            return wrong.get();
        }
        StoredWork work = new StoredWork(report, site.get(), machine, who.name(), now);
        stored.put(report.id(), work);
        events.report(
                SiteScope.EVERY,
                WorkEvents.of(machine, report).stream()
                        .map(event -> new Events.Report(
                                Optional.empty(),
                                event.machine(),
                                Optional.of(event.at()),
                                event.kind(),
                                event.detail(),
                                event.by(),
                                event.job()))
                        .toList(),
                who);
        return new Outcome.Added(work);
    }

    @Override
    public synchronized PhotoOutcome addPhoto(SiteScope sites, UUID report, UUID id, PlainJpeg photo, Person who) {
        photosReceived++;
        Optional<StoredWork> work = one(sites, report);
        if (work.isEmpty()) {
            return new PhotoOutcome.NotFound();
        }
        List<StoredPhoto> photos = new ArrayList<>(work.get().photos());
        Optional<StoredPhoto> known =
                photos.stream().filter(each -> each.id().equals(id)).findFirst();
        if (known.isPresent()) {
            return new PhotoOutcome.Known(known.get());
        }
        if (pictures.containsKey(id)) {
            return new PhotoOutcome.Elsewhere();
        }
        if (photos.size() == StoredWork.MOST_PHOTOS) {
            return new PhotoOutcome.Full();
        }
        StoredPhoto added = new StoredPhoto(
                id,
                photo.width(),
                photo.height(),
                photo.bytes().length,
                photo.sha256(),
                who.name(),
                clock.instant().truncatedTo(ChronoUnit.MILLIS));
        photos.add(added);
        pictures.put(id, photo.bytes());
        StoredWork w = work.get();
        stored.put(report, new StoredWork(w.report(), w.site(), w.machine(), w.enteredBy(), w.enteredAt(), photos));
        return new PhotoOutcome.Added(added);
    }

    @Override
    public synchronized Optional<byte[]> photo(SiteScope sites, UUID report, UUID id) {
        return one(sites, report).flatMap(work -> Optional.ofNullable(pictures.get(id)));
    }

    @Override
    public synchronized List<StoredWork> ofMachine(SiteScope sites, String machine, Optional<UUID> after, int limit) {
        List<StoredWork> sorted = stored.values().stream()
                .filter(work -> work.machine().equals(machine) && sites.includes(work.site()))
                .sorted(Comparator.comparing((StoredWork work) -> work.report().at())
                        .reversed())
                .toList();
        return sorted.stream()
                .skip(after.map(id -> 1L
                                + sorted.stream()
                                        .takeWhile(work -> !work.report().id().equals(id))
                                        .count())
                        .orElse(0L))
                .limit(limit)
                .toList();
    }

    @Override
    public synchronized Optional<StoredWork> one(SiteScope sites, UUID id) {
        return Optional.ofNullable(stored.get(id)).filter(work -> sites.includes(work.site()));
    }

    @Override
    public synchronized List<StoredWork> between(SiteScope sites, Optional<String> machine, Instant from, Instant to) {
        return stored.values().stream()
                .filter(work -> sites.includes(work.site()))
                .filter(work -> machine.isEmpty() || machine.get().equals(work.machine()))
                .filter(work ->
                        !work.report().at().isBefore(from) && work.report().at().isBefore(to))
                .sorted(Comparator.comparing(work -> work.report().at()))
                .toList();
    }

    @Override
    public synchronized List<FoundCause> outcomes(SiteScope sites) {
        return between(sites, Optional.empty(), Instant.EPOCH, Instant.MAX).stream()
                .filter(work -> work.report().found().told().isPresent())
                .map(work -> new FoundCause(
                        new TruthRow(
                                work.machine(),
                                work.report().found().told(),
                                Optional.empty(),
                                Optional.empty(),
                                Optional.empty()),
                        work.machine().equals("ice-0013") ? Optional.of(Verdict.NOT_HELD) : Optional.empty()))
                .toList();
    }

    @Override
    public List<MissedCall> missedCalls(SiteScope sites, Instant from, Instant to) {
        MissedCall call = new MissedCall(
                7,
                clock.instant().truncatedTo(ChronoUnit.MILLIS),
                "site-2",
                Optional.empty(),
                "no-ice",
                true,
                "Bar, upstairs",
                "J-8",
                Optional.empty());
        return sites.includes(call.site())
                        && !call.at().isBefore(from)
                        && call.at().isBefore(to)
                ? List.of(call)
                : List.of();
    }

    @Override
    public synchronized Past past(SiteScope sites, Instant from, Instant to) {
        Past.Ended bySite =
                new Past.Ended(new UUID(9, 1), false, false, true, Optional.empty(), Optional.of(Cause.Origin.SITE));
        Past.Ended byWork =
                new Past.Ended(new UUID(9, 2), true, true, true, Optional.of(Cause.Origin.WEAR), Optional.empty());
        return new Past(
                List.of(bySite, byWork),
                List.of(new Past.Stop("ice-0001", to.minusSeconds(90_000), to.minusSeconds(18_000))),
                stored.values().stream()
                        .flatMap(each -> each.report().caseId().stream())
                        .collect(Collectors.toSet()),
                24.0 * 365 * 86_400);
    }
}
