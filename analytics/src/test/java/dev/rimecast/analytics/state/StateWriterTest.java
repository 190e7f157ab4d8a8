package dev.rimecast.analytics.state;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class StateWriterTest {
    private static final long NOW = 1_790_000_000_000L;

    @Test
    void times_anyOrderAndNone_comeBackAsTheyWere() {
        SplittableRandom random = new SplittableRandom(7);
        long[] times = new long[500];
        StateWriter out = new StateWriter();
        for (int i = 0; i < times.length; i++) {
            times[i] = i % 7 == 0 ? Long.MIN_VALUE : NOW + random.nextLong(-10_000_000_000L, 10_000_000_000L);
            out.time(times[i]).whole(i);
        }
        StateReader in = new StateReader(out.toBytes());
        for (int i = 0; i < times.length; i++) {
            assertThat(in.time()).isEqualTo(times[i]);
            assertThat(in.whole()).isEqualTo(i);
        }
        assertThat(in.atEnd()).isTrue();
    }

    @Test
    void time_nearTheLastOne_isShort() {
        StateWriter out = new StateWriter().time(NOW);
        int first = out.size();
        out.time(NOW).time(Long.MIN_VALUE);
        assertThat(out.size() - first).isEqualTo(2);
    }

    @Test
    void writerUsedAgain_countsFromNothing() {
        StateWriter out = new StateWriter().time(NOW).restart().time(NOW + 5);
        assertThat(new StateReader(out.toBytes()).time()).isEqualTo(NOW + 5);
    }
}
