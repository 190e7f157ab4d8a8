package dev.rimecast.alerts.visits.calendar;

import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.Secret;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.alerts.view.ScopedVisits;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.alerts.view.Visits.Filter;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Stream;

/** Makes links, takes them back, and gives what they open: nothing once its maker may not see anything any more. */
public final class CalendarLinks {
    /** How long a calendar program is told of a visit that was cancelled, or is over. */
    static final Duration KEPT = Duration.ofDays(30);

    private static final int MOST = 20;

    private final CalendarLinkStore store;
    private final Visits visits;
    private final Function<UUID, Optional<Account>> accounts;
    private final InstantSource clock;

    /** @param accounts those that may see something now */
    public CalendarLinks(
            CalendarLinkStore store, Visits visits, Function<UUID, Optional<Account>> accounts, InstantSource clock) {
        this.store = store;
        this.visits = visits;
        this.accounts = accounts;
        this.clock = clock;
    }

    /** @param secret the link's secret, which is nowhere else */
    public record Made(CalendarLink link, String secret) {}

    /**
     * @param engineer absent for the visits of all
     * @return nothing where the account has too many
     */
    public Optional<Made> make(Visitor by, Optional<String> engineer) {
        if (store.of(by.account().id()).size() >= MOST) {
            return Optional.empty();
        }
        String secret = Secret.make();
        CalendarLink link = new CalendarLink(
                UUID.randomUUID(), by.account().id(), engineer, by.person().name(), now(), Optional.empty());
        store.add(link, Secret.hash(secret));
        return Optional.of(new Made(link, secret));
    }

    public List<CalendarLink> list(Visitor by) {
        return store.of(by.account().id());
    }

    public boolean revoke(Visitor by, UUID link) {
        return store.revoke(by.account().id(), link, by.person().name(), now());
    }

    /** The calendar that a link opens; nothing where it opens none. */
    public Optional<String> read(String secret) {
        Optional<CalendarLink> link = store.find(Secret.hash(secret))
                .filter(found -> found.revokedBy().isEmpty());
        Optional<Account> account = link.flatMap(found -> accounts.apply(found.account()));
        return account.map(maker -> {
            Instant since = now().minus(KEPT);
            // A firm has years of what has ended. What is cancelled may have been for a day before.
            LocalDate from = day(since.minus(KEPT));
            Visits seen = ScopedVisits.of(visits, maker.sites());
            Optional<String> engineer = link.get().engineer();
            List<VisitView> overdue = seen.list(
                    maker.sites(),
                    new Filter(
                            Optional.empty(),
                            Optional.of(from.minusDays(1)),
                            Optional.empty(),
                            engineer,
                            Filter.OPEN.states()));
            List<VisitView> recent = seen.list(
                    maker.sites(),
                    new Filter(Optional.of(from), Optional.empty(), Optional.empty(), engineer, Set.of()));
            List<VisitView> shown = Stream.concat(overdue.stream(), recent.stream())
                    .filter(visit -> isTold(visit, since))
                    .toList();
            return CalendarFeed.write(shown, engineer);
        });
    }

    private static LocalDate day(Instant at) {
        return at.atZone(ZoneOffset.UTC).toLocalDate();
    }

    private static boolean isTold(VisitView visit, Instant since) {
        return visit.state().isOpen()
                || (visit.state() == State.CANCELLED
                        ? !visit.changedAt().isBefore(since)
                        : !visit.day().isBefore(day(since)));
    }

    private Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MILLIS);
    }
}
