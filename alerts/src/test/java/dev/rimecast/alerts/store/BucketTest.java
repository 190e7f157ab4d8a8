package dev.rimecast.alerts.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Objects;
import org.junit.jupiter.api.Test;

class BucketTest {
    private static final long START = Bucket.startOf(1_777_800_123_456L);

    @Test
    void startOf_timesAroundTheEdge_isTheFiveMinutesBefore() {
        // 1777800000 is a multiple of 300
        assertThat(START).isEqualTo(1_777_800_000_000L);
        assertThat(Bucket.startOf(1_777_800_299_999L)).isEqualTo(1_777_800_000_000L);
        assertThat(Bucket.startOf(1_777_800_300_000L)).isEqualTo(1_777_800_300_000L);
        assertThat(Bucket.startOf(-1)).isEqualTo(-300_000);
    }

    @Test
    void add_sameSecondAgain_countsOnceAndTheFirstStands() {
        Bucket bucket = new Bucket("ice-0001", START);

        assertThat(bucket.add(Bucket.EVAPORATOR, START + 1_200, -6)).isTrue();
        assertThat(bucket.add(Bucket.EVAPORATOR, START + 1_900, 40)).isFalse();
        assertThat(bucket.add(Bucket.CONDENSER, START + 1_200, 40)).isTrue();

        assertThat(bucket.count[Bucket.EVAPORATOR]).isEqualTo(1);
        assertThat(bucket.max[Bucket.EVAPORATOR]).isEqualTo(-6);
    }

    @Test
    void trace_readingsOfOneStep_keepsTheFirstToTheHundredth() {
        Bucket bucket = new Bucket("ice-0001", START);
        bucket.add(Bucket.EVAPORATOR, START + 19_000, -6.254);
        bucket.add(Bucket.EVAPORATOR, START + 3_000, 9);
        bucket.add(Bucket.EVAPORATOR, START + 20_000, -7);
        bucket.add(Bucket.CONDENSER, START + 299_000, 1_000);

        Bucket back = new Bucket("ice-0001", START);
        back.restoreTrace(bucket.trace());
        back.add(Bucket.EVAPORATOR, START + 21_000, 50);
        byte[] trace = Objects.requireNonNull(back.trace());

        assertThat(Bucket.traced(trace, Bucket.EVAPORATOR, 0)).hasValue(-6.25);
        assertThat(Bucket.traced(trace, Bucket.EVAPORATOR, 1)).hasValue(-7);
        assertThat(Bucket.traced(trace, Bucket.EVAPORATOR, 2)).isEmpty();
        assertThat(Bucket.traced(trace, Bucket.CONDENSER, 14))
                .as("no temperature that a curve could show, cut to what 16 bits hold")
                .hasValue(327.67);
    }

    @Test
    void trace_neitherEvaporatorNorCondenser_isAbsent() {
        Bucket bucket = new Bucket("ice-0001", START);
        bucket.add(Bucket.AMBIENT, START, 24);

        assertThat(bucket.trace()).isNull();
    }

    @Test
    void seen_fewAndMany_comeBackAsTheyWere() {
        Bucket bucket = new Bucket("ice-0001", START);
        for (int second = 0; second < 300; second += 100) {
            bucket.add(Bucket.AMBIENT, START + second * 1000L, 20);
        }
        for (int second = 0; second < 300; second++) {
            bucket.add(Bucket.EVAPORATOR, START + second * 1000L, -5);
        }

        Bucket back = new Bucket("ice-0001", START);
        back.restoreSeen(bucket.seen());

        for (int second = 0; second < 300; second++) {
            assertThat(back.add(Bucket.EVAPORATOR, START + second * 1000L, 9))
                    .as("second %s", second)
                    .isFalse();
            assertThat(back.add(Bucket.AMBIENT, START + second * 1000L, 9))
                    .as("second %s", second)
                    .isEqualTo(second % 100 != 0);
        }
    }
}
