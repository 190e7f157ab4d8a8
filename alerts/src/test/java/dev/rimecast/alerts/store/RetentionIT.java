package dev.rimecast.alerts.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.OwnDatabase;
import dev.rimecast.alerts.keep.Retention;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;

/** Ages of what machines send, on a real database. What becomes of the log of notices is in the tests of the outbox. */
@TestInstance(Lifecycle.PER_CLASS)
class RetentionIT {
    private static final Instant NOW = Instant.parse("2026-11-25T12:00:00Z");
    private static final Retention AGES = Retention.STANDARD;
    private static final int LOOKS_OF_A_ROUND = 200;

    @AutoClose
    private OwnDatabase own;

    @BeforeAll
    void start() {
        own = new OwnDatabase();
    }

    @BeforeEach
    void empty() {
        execute("truncate rollup_5min, cycle, bin_full");
    }

    private void execute(String sql) {
        own.database().jdbi().useHandle(handle -> handle.execute(sql));
    }

    private long count(String from) {
        return own.database()
                .jdbi()
                .withHandle(handle -> handle.createQuery("select count(*) from " + from)
                        .mapTo(Long.class)
                        .one());
    }

    /** A bucket an hour. */
    private void rollups(int machines, int days) {
        execute("""
                insert into rollup_5min (machine, bucket, evap_count, evap_sum, cond_count, cond_sum, amb_count, amb_sum,
                    water_count, water_sum, seen)
                select 'ice-' || m, timestamptz '%s' - make_interval(hours => h), 1, 1, 0, 0, 0, 0, 0, 0, ''
                from generate_series(1, %d) m, generate_series(1, %d) h""".formatted(NOW, machines, days * 24));
    }

    private void round(RetentionPass pass, Instant now) {
        for (int look = 0; look < LOOKS_OF_A_ROUND; look++) {
            assertThat(pass.run(now)).isEmpty();
        }
    }

    @Test
    void temperatures_olderThanTheirAge_go_ofEveryMachine_andNoOther() {
        rollups(230, 110);
        round(new RetentionPass(own.database(), AGES), NOW);

        assertThat(count("rollup_5min")).isEqualTo(230L * 100 * 24);
        assertThat(count("rollup_5min where bucket < timestamptz '%s'".formatted(NOW.minus(AGES.temperatures()))))
                .isZero();
    }

    @Test
    void look_takesALittleOnly_andTheNextRoundIsAnHourLater() {
        rollups(30, 120);
        RetentionPass pass = new RetentionPass(own.database(), AGES);
        long all = count("rollup_5min");
        pass.run(NOW);
        assertThat(all - count("rollup_5min")).isEqualTo(OldRows.AT_MOST);

        round(pass, NOW);
        assertThat(count("rollup_5min")).isEqualTo(30L * 100 * 24);
        round(pass, NOW.plus(Duration.ofMinutes(59)));
        assertThat(count("rollup_5min")).isEqualTo(30L * 100 * 24);
        round(pass, NOW.plus(Duration.ofHours(24)));
        assertThat(count("rollup_5min")).isEqualTo(30L * 99 * 24);
    }

    @Test
    void cyclesAndFullBins_olderThanTheirAge_go_butNotTheNewestSpellNorOneThatLasts() {
        execute("""
                insert into cycle (machine, freeze_start, ended, complete, record)
                select 'ice-1', t, t, true, '{}' from generate_series(timestamptz '%s' - interval '410 days',
                    timestamptz '%1$s' - interval '1 day', interval '1 day') t""".formatted(NOW));
        execute("""
                insert into bin_full (machine, began, ended) values
                    ('ice-1', timestamptz '%s' - interval '500 days', timestamptz '%1$s' - interval '499 days'),
                    ('ice-1', timestamptz '%1$s' - interval '2 days', timestamptz '%1$s' - interval '1 day'),
                    ('ice-2', timestamptz '%1$s' - interval '500 days', timestamptz '%1$s' - interval '499 days'),
                    ('ice-3', timestamptz '%1$s' - interval '500 days', null)""".formatted(NOW));
        round(new RetentionPass(own.database(), AGES), NOW);

        assertThat(count("cycle")).isEqualTo(400);
        List<String> left = own.database()
                .jdbi()
                .withHandle(handle -> handle.createQuery(
                                "select machine || ' ' || (ended is null) from bin_full order by 1")
                        .mapTo(String.class)
                        .list());
        assertThat(left).containsExactly("ice-1 false", "ice-2 false", "ice-3 true");
    }

    @Test
    void nothingOld_nothingGoes() {
        rollups(3, 99);
        long before = count("rollup_5min");
        round(new RetentionPass(own.database(), AGES), NOW);
        assertThat(count("rollup_5min")).isEqualTo(before);
    }

    @Test
    void age_belowWhatIsReckonedWith_isRefused() {
        assertThatThrownBy(() -> new Retention(Duration.ofDays(30), Duration.ofDays(400), Duration.ofDays(400)))
                .hasMessageContaining("temperatures must be at least");
    }
}
