package dev.rimecast.alerts.visits;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.OwnDatabase;
import dev.rimecast.alerts.store.StoredVisits;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.Visits.Filter;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.Set;
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
            handle.execute("alter table visit_audit disable trigger all");
            handle.execute("truncate visit_audit, visit_need");
            handle.execute("delete from visit");
            handle.execute("alter table visit_audit enable trigger all");
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
