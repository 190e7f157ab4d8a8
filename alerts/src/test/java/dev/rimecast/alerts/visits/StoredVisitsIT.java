package dev.rimecast.alerts.visits;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.OwnDatabase;
import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.alerts.store.StoredVisits;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitRequest;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.view.Visits.Made;
import dev.rimecast.alerts.view.Visits.NewEffect;
import dev.rimecast.alerts.view.Visits.NewVisit;
import dev.rimecast.alerts.visits.VisitStore.Written;
import dev.rimecast.alerts.visits.calendar.CalendarLinks;
import dev.rimecast.alerts.visits.calendar.MemoryCalendarLinkStore;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.jdbi.v3.core.Jdbi;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;

/** Visits on a real database: the same as in memory, over random days, and what it refuses besides. */
@TestInstance(Lifecycle.PER_CLASS)
class StoredVisitsIT {
    private static final LocalDate THURSDAY = Firm.TODAY.plusDays(3);

    @AutoClose
    private OwnDatabase own;

    private StoredVisits store;

    @BeforeAll
    void start() {
        own = new OwnDatabase();
        store = new StoredVisits(own.database());
    }

    private Jdbi jdbi() {
        return own.database().jdbi();
    }

    @BeforeEach
    void empty() {
        jdbi().useHandle(handle -> {
            for (String table : List.of("visit_audit", "work_report")) {
                handle.execute("alter table " + table + " disable trigger user");
            }
            handle.execute("truncate visit_audit, visit_need, site_event");
            handle.execute("delete from work_report");
            handle.execute("delete from visit");
            for (String table : List.of("visit_audit", "work_report")) {
                handle.execute("alter table " + table + " enable trigger user");
            }
        });
    }

    @Test
    void randomDays_noNeedIsTwiceNoneIsLostAndAllIsAsInMemory() {
        for (long seed = 100; seed < 104; seed++) {
            empty();
            Firm stored = new Firm(store, IceAhead.UNKNOWN);
            Firm kept = new Firm(new MemoryVisitStore(), IceAhead.UNKNOWN);
            RandomVisits memory = new RandomVisits(kept, seed);
            RandomVisits database = new RandomVisits(stored, seed);
            for (int block = 0; block < 8; block++) {
                memory.run(10, all -> {});
                database.run(10, all -> {});
                List<VisitView> both = stored.desk.list(SiteScope.EVERY, Filter.OPEN);
                assertThat(both)
                        .as("seed %s, block %s", seed, block)
                        .isEqualTo(kept.desk.list(SiteScope.EVERY, Filter.OPEN));
            }
            assertThat(database.made).isEqualTo(memory.made);
        }
    }

    @Test
    void list_byDayStateSiteEngineerAndScope_findsWhatFits() {
        Firm firm = new Firm(store, IceAhead.UNKNOWN);
        firm.open("a", "s0", Firm.TODAY.plusDays(2));
        firm.open("b", "s1", Firm.TODAY.plusDays(8));
        firm.desk.plan();

        assertThat(sites(SiteScope.EVERY, Filter.OPEN)).containsExactly("s0", "s1");
        assertThat(sites(SiteScope.of(List.of("s1")), Filter.OPEN)).containsExactly("s1");
        assertThat(sites(SiteScope.EVERY, filter(Optional.of(Firm.TODAY.plusDays(3)), "", "")))
                .containsExactly("s1");
        assertThat(sites(SiteScope.EVERY, filter(Optional.empty(), "s0", "Bo"))).containsExactly("s0");
        assertThat(sites(SiteScope.EVERY, filter(Optional.empty(), "", "Cem"))).isEmpty();
    }

    /** Of the invented engineer, for both machines, on the Thursday. */
    private static VisitView byHand(Firm firm) {
        NewVisit wanted = new NewVisit(
                UUID.randomUUID(),
                "s0",
                THURSDAY,
                570,
                "Bo",
                new VisitRequest(List.of("m-a", "m-b"), "Look at both.", "", 120));
        return ((Made.Added) firm.desk.make(wanted, new Person("Ada"))).visit();
    }

    /** What a report of a visit to m-a leaves behind; of work, where it says for which visit. */
    private void report(Instant at, Optional<UUID> workOf, boolean isWork) {
        jdbi().useHandle(handle -> {
            handle.createUpdate("insert into site_event (site, machine, happened, kind, detail, who, job)"
                            + " values ('s0', 'm-a', :at, 'visit', '', 'Bo', '')")
                    .bind("at", at)
                    .execute();
            if (isWork) {
                handle.createUpdate("insert into work_report (id, site, machine, happened, found, found_text, job,"
                                + " note, who, certificate, visit, entered_by, entered_at) values (:id, 's0', 'm-a',"
                                + " :at, 'nothing-found', '', '', '', 'Bo', '', :visit, 'Bo', :at)")
                        .bind("id", UUID.randomUUID())
                        .bind("at", at)
                        .bind("visit", workOf)
                        .execute();
            }
        });
    }

    private static State state(Firm firm, UUID id) {
        firm.desk.plan();
        return firm.desk.one(id).orElseThrow().state();
    }

    /** Its machine has a visit of its own the day before, or on the same day. */
    @Test
    void workThatNamesAnotherVisit_endsThatOne_andNotTheOneByHand() {
        for (LocalDate day : List.of(THURSDAY.minusDays(1), THURSDAY)) {
            empty();
            Firm firm = new Firm(store, IceAhead.UNKNOWN);
            VisitView byHand = byHand(firm);
            firm.now = at(THURSDAY.minusDays(2), 9);
            NewVisit other = new NewVisit(
                    UUID.randomUUID(), "s0", day, 570, "Cem", new VisitRequest(List.of("m-a"), "The fan.", "", 60));
            UUID own = ((Made.Added) firm.desk.make(other, new Person("Ada")))
                    .visit()
                    .id();

            firm.now = at(day, 14);
            report(firm.now, Optional.of(own), true);

            assertThat(state(firm, own)).as("of %s", day).isEqualTo(State.DONE);
            assertThat(state(firm, byHand.id())).as("on %s", day).isEqualTo(State.ACCEPTED);
            firm.now = at(THURSDAY, 15);
            report(firm.now, Optional.empty(), true);
            assertThat(state(firm, byHand.id())).as("work that names no visit").isEqualTo(State.DONE);
        }
    }

    /** In London, an hour ahead in May. */
    @Test
    void aVisitThatIsReported_endsWhatIsOnThatDayOfTheSite_andNothingOfTheNextDay() {
        Firm firm = new Firm(store, IceAhead.UNKNOWN);
        UUID byHand = byHand(firm).id();

        firm.now = Instant.parse("2026-05-06T22:59:00Z");
        report(firm.now, Optional.empty(), false);
        assertThat(state(firm, byHand)).isEqualTo(State.ACCEPTED);

        firm.now = Instant.parse("2026-05-06T23:01:00Z");
        assertThat(state(firm, byHand)).as("nobody was there on Thursday").isEqualTo(State.ACCEPTED);
        report(firm.now, Optional.empty(), false);
        assertThat(state(firm, byHand)).isEqualTo(State.DONE);
    }

    private static Instant at(LocalDate day, int hour) {
        return day.atTime(hour, 0).atZone(Firm.ZONE).toInstant();
    }

    private static Filter filter(Optional<LocalDate> from, String site, String engineer) {
        return new Filter(
                from,
                Optional.empty(),
                Optional.of(site).filter(text -> !text.isEmpty()),
                Optional.of(engineer).filter(text -> !text.isEmpty()),
                Set.of());
    }

    private List<String> sites(SiteScope scope, Filter filter) {
        return store.list(scope, filter).stream().map(Visit::site).toList();
    }

    /** Who only wants to know what a visit would mean waits for nobody, and nobody for them. */
    @Test
    void effectOfANewVisit_isToldWhileSomebodyPlans() {
        Firm firm = new Firm(store, IceAhead.UNKNOWN);
        firm.open("a", "s0", THURSDAY);
        firm.desk.plan();
        NewVisit wanted =
                new NewVisit(UUID.randomUUID(), "s0", THURSDAY, 570, "Bo", new VisitRequest(List.of(), "?", "", 60));

        NewEffect effect = store.change(session -> CompletableFuture.supplyAsync(
                        () -> firm.desk.effect(wanted).orElseThrow())
                .orTimeout(20, TimeUnit.SECONDS)
                .join());

        assertThat(effect.joins()).containsExactly("trouble a (m-a)");
    }

    @Test
    void look_seesOneMoment_andCanNotWrite() {
        Firm firm = new Firm(store, IceAhead.UNKNOWN);
        firm.open("a", "s0", THURSDAY);
        firm.desk.plan();

        List<List<Visit>> seen = store.look(session -> {
            List<Visit> before = session.open();
            firm.open("b", "s1", THURSDAY);
            // In a thread, and so a transaction, of its own.
            CompletableFuture.runAsync(firm.desk::plan)
                    .orTimeout(20, TimeUnit.SECONDS)
                    .join();
            return List.of(before, session.open());
        });

        assertThat(seen.get(1)).isEqualTo(seen.get(0)).hasSize(1);
        assertThat(store.list(SiteScope.EVERY, Filter.OPEN)).hasSize(2);
        Visit visit = seen.get(0).get(0);
        assertThatThrownBy(() -> store.look(session -> {
                    session.write(List.of(new Written(visit.as(State.ACCEPTED, ""), Optional.empty())));
                    return visit;
                }))
                .hasMessageContaining("read-only transaction");
        assertThat(store.find(visit.id())).contains(visit);
    }

    private static String calendar(Firm firm) {
        Account ada = new Account(
                UUID.randomUUID(), "Ada", Role.MANAGER, SiteScope.EVERY, false, true, Firm.MONDAY, Optional.empty());
        CalendarLinks links =
                new CalendarLinks(new MemoryCalendarLinkStore(), firm.desk, id -> Optional.of(ada), () -> firm.now);
        Visitor visitor = new Visitor(ada, Set.of(), ada.sites(), Optional.empty(), Optional.empty());
        return links.read(links.make(visitor, Optional.empty()).orElseThrow().secret())
                .orElseThrow();
    }

    /** A firm with years behind it. */
    @Test
    void list_ofMoreThanItGives_hasWhatIsNewest_andSoHasACalendar() {
        jdbi().useHandle(handle ->
                handle.execute("insert into visit (id, site, day, from_minute, minutes, engineer, state,"
                        + " sequence, note, created_at, changed_at, changed_by) select gen_random_uuid(), 's0', date '2026-01-01' - n / 20,"
                        + " 540, 60, 'Bo', 'done', 1, '', timestamptz '2026-01-01', timestamptz '2026-01-01', 'Ada'"
                        + " from generate_series(1, 6000) n"));
        Firm firm = new Firm(store, IceAhead.UNKNOWN);
        firm.open("a", "s0", THURSDAY);
        firm.desk.plan();
        Visit proposed = store.list(SiteScope.EVERY, Filter.OPEN).get(0);

        assertThat(store.list(SiteScope.EVERY, filter(Optional.empty(), "", "")))
                .hasSize(5_000)
                .isSortedAccordingTo(Visit.BY_TIME)
                .last()
                .isEqualTo(proposed);
        assertThat(calendar(firm)).contains("UID:" + proposed.id());
    }

    @Test
    void database_needOnTwoOpenVisitsOrAChangedHistory_isRefused() {
        Firm firm = new Firm(store, IceAhead.UNKNOWN);
        firm.open("a", "s0", Firm.TODAY.plusDays(2));
        firm.open("b", "s1", Firm.TODAY.plusDays(2));
        firm.desk.plan();

        assertThatThrownBy(() -> jdbi().useHandle(handle ->
                        handle.execute("update visit_need set need = 'case-a' where need = 'case-b'")))
                .hasMessageContaining("visit_need_on_one_open_visit");
        assertThatThrownBy(() -> jdbi().useHandle(handle -> handle.execute("delete from visit_audit")))
                .hasMessageContaining("append-only");
    }
}
