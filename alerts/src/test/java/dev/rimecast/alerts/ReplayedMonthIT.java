package dev.rimecast.alerts;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.register.RegisterImport;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.FindingStore;
import dev.rimecast.alerts.store.HoldPass;
import dev.rimecast.alerts.store.PriorityPass;
import dev.rimecast.alerts.store.SiteLocks;
import dev.rimecast.alerts.store.StoredViews;
import dev.rimecast.alerts.store.StoredVisits;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.visits.IceAhead;
import dev.rimecast.alerts.visits.NeedReader;
import dev.rimecast.alerts.visits.VisitDesk;
import dev.rimecast.alerts.visits.plan.PartLeads;
import dev.rimecast.alerts.visits.plan.PlanSettings;
import dev.rimecast.alerts.visits.plan.Team;
import dev.rimecast.telemetry.finding.Finding;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;

/**
 * A month of a fleet's findings, taken in again: in other batches, looked at more seldom, and with a restart after which
 * half of it is read again. Cases and visits are the same to the last byte.
 */
@TestInstance(Lifecycle.PER_CLASS)
class ReplayedMonthIT {
    private static final Person ADA = new Person("Ada");
    private static final long SEED = 20260504;

    @AutoClose
    private OwnDatabase own;

    private boolean isBegun;
    private final FleetMonth month = new FleetMonth(SEED);

    @BeforeAll
    void start() {
        own = new OwnDatabase();
    }

    /** What is left of a month. */
    private record Left(List<String> cases, List<String> visits) {}

    @Test
    void month_inOtherBatchesLooksAndWithARestart_leavesTheSameCasesAndVisits() {
        Left live = take(Duration.ofHours(12), 1, false);

        assertThat(live.cases()).hasSizeGreaterThan(8);
        assertThat(live.visits()).hasSizeGreaterThan(3).anyMatch(visit -> visit.contains(" accepted "));
        assertSame(take(Duration.ofHours(29), 7, true), live, "in sevens, about once a day, with a restart");
        assertSame(take(Duration.ofDays(40), 400, false), live, "at once, with a look where somebody decides");
    }

    private static void assertSame(Left again, Left live, String how) {
        assertThat(again.cases()).as("cases, seed %s, %s", SEED, how).isEqualTo(live.cases());
        assertThat(again.visits()).as("visits, seed %s, %s", SEED, how).isEqualTo(live.visits());
    }

    private Left take(Duration look, int batch, boolean isRestarted) {
        if (isBegun) {
            own.beginAnew();
        }
        isBegun = true;
        Stage stage = new Stage();
        new RegisterImport(own.database(), () -> FleetMonth.START, () -> {})
                .apply(month.register(), "policy-1", "a: 1");
        List<Finding> findings = month.findings();
        int taken = 0;
        for (Instant decision : month.decisions()) {
            Instant from = stage.now;
            for (Instant at = from.plus(look); at.isBefore(decision); at = at.plus(look)) {
                taken = stage.take(findings, taken, at, batch);
                stage.look();
            }
            if (isRestarted) {
                Instant now = stage.now;
                stage = new Stage();
                stage.now = now;
                taken /= 2;
            }
            taken = stage.take(findings, taken, decision, batch);
            stage.look();
            stage.decide();
        }
        return stage.left();
    }

    /** What lives in a process: everything that a restart forgets. */
    private final class Stage {
        private final BooksInForce books = new BooksInForce();
        private final StoredViews views = new StoredViews(own.database(), books);
        private final FindingStore store = new FindingStore(books);
        private final HoldPass holds = new HoldPass(own.database(), books);
        private final PriorityPass priorities = new PriorityPass(own.database(), books);
        private Instant now = FleetMonth.START;
        private final VisitDesk desk = new VisitDesk(
                new StoredVisits(own.database()),
                views::sites,
                new NeedReader(views, books, PartLeads.IN_STOCK, PlanSettings.STANDARD),
                Team.UNKNOWN,
                false,
                PlanSettings.STANDARD,
                IceAhead.UNKNOWN,
                () -> now,
                () -> "",
                changes -> {});

        /** @return how many are taken in then */
        int take(List<Finding> findings, int from, Instant until, int batch) {
            now = until;
            int end = from;
            while (end < findings.size() && !findings.get(end).at().isAfter(until)) {
                end++;
            }
            for (int i = from; i < end; i += batch) {
                List<Finding> some = findings.subList(i, Math.min(end, i + batch));
                own.database().jdbi().useTransaction(handle -> {
                    SiteLocks.take(handle, some.stream().map(Finding::site).toList());
                    some.forEach(finding -> store.receive(handle, finding, now));
                });
            }
            return end;
        }

        void look() {
            holds.run(now);
            priorities.run(now);
            desk.plan();
        }

        /** Somebody accepts what is proposed next, ends the oldest that is accepted, and gives another back. */
        void decide() {
            of(State.ACCEPTED).stream().limit(1).forEach(visit -> desk.done(visit.id(), visit.sequence(), ADA, ""));
            of(State.ACCEPTED).stream()
                    .skip(2)
                    .limit(1)
                    .forEach(visit -> desk.release(visit.id(), visit.sequence(), ADA, "no time"));
            of(State.PROPOSED).stream().limit(3).forEach(visit -> desk.accept(visit.id(), visit.sequence(), ADA, ""));
        }

        private List<VisitView> of(State state) {
            return desk.list(SiteScope.EVERY, Filter.OPEN).stream()
                    .filter(visit -> visit.state() == state)
                    .toList();
        }

        Left left() {
            List<String> cases = new ArrayList<>();
            for (CaseView each : views.cases(false, 5_000)) {
                cases.add(String.join(
                        " ",
                        each.id().toString(),
                        each.site(),
                        each.title().orElse(""),
                        each.cause().orElse(""),
                        each.openedAt().toString(),
                        each.closedAt().map(Instant::toString).orElse("open"),
                        each.mergedInto().toString(),
                        each.alerts().stream()
                                .map(alert -> alert.state().code() + ' ' + alert.finding())
                                .sorted()
                                .toList()
                                .toString()));
            }
            Filter all = new Filter(Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Set.of());
            List<String> visits = desk.list(SiteScope.EVERY, all).stream()
                    .filter(visit -> visit.state() != State.CANCELLED)
                    .map(visit -> visit.id() + " " + visit.site() + ' ' + visit.day() + ' ' + visit.fromMinute() + ' '
                            + visit.minutes() + ' ' + visit.engineer() + ' '
                            + visit.state().code() + ' '
                            + visit.needs())
                    .sorted()
                    .toList();
            return new Left(cases.stream().sorted().toList(), visits);
        }
    }
}
