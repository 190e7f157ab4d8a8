package dev.rimecast.ingest.kafka;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

class InFlightTest {
    private final AtomicLong nanos = new AtomicLong();
    private final InFlight inFlight = new InFlight(4, 1000, nanos::get);

    @Test
    void full_atTheCount_hasRoomAgainAtHalf() {
        AtomicInteger calls = new AtomicInteger();
        inFlight.onRoom(calls::incrementAndGet);
        for (int i = 0; i < 4; i++) {
            inFlight.add(1);
        }
        assertThat(inFlight.isFull()).isTrue();

        inFlight.remove(1);
        assertThat(inFlight.isFull()).isTrue();
        inFlight.remove(1);
        assertThat(inFlight.isFull()).isFalse();
        inFlight.remove(1);
        inFlight.remove(1);
        assertThat(calls).hasValue(1);
    }

    @Test
    void full_atTheBytes_hasRoomAgainAtHalfOfThem() {
        inFlight.add(600);
        inFlight.add(400);
        assertThat(inFlight.isFull()).isTrue();
        inFlight.remove(400);
        assertThat(inFlight.isFull()).isTrue();
        inFlight.remove(600);
        assertThat(inFlight.isFull()).isFalse();
    }

    @Test
    void stalled_countsFromTheLastProgress_andNotWhileNothingWaits() {
        nanos.set(Duration.ofHours(1).toNanos());
        assertThat(inFlight.stalledFor()).isZero();
        inFlight.add(1);
        inFlight.add(1);
        nanos.addAndGet(Duration.ofSeconds(7).toNanos());
        assertThat(inFlight.stalledFor()).isEqualTo(Duration.ofSeconds(7));
        inFlight.remove(1);
        assertThat(inFlight.stalledFor()).isZero();
        nanos.addAndGet(Duration.ofSeconds(2).toNanos());
        assertThat(inFlight.stalledFor()).isEqualTo(Duration.ofSeconds(2));
    }
}
