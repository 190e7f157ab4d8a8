package dev.rimecast.app.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.Test;

class DemoClockTest {
    private static final Instant PRESENT = Instant.parse("2026-05-04T12:00:00Z");
    private static final Instant START = PRESENT.minus(Duration.ofDays(45));

    private Instant wall = PRESENT;
    private final DemoClock clock = new DemoClock(() -> wall, START);

    @Test
    void instant_inThePast_standsUntilMoved() {
        wall = PRESENT.plusSeconds(30);
        assertThat(clock.instant()).isEqualTo(START);

        clock.moveTo(START.plusSeconds(60));

        assertThat(clock.instant()).isEqualTo(START.plusSeconds(60));
        assertThat(clock.isPast()).isTrue();
    }

    @Test
    void moveTo_thePresent_followsTheWallFromThenOn() {
        clock.moveTo(PRESENT.minusSeconds(1));
        wall = PRESENT.plusSeconds(90);

        assertThat(clock.isPast()).isFalse();
        assertThat(clock.instant()).isEqualTo(wall);
    }

    @Test
    void moveTo_backwards_isRefused() {
        clock.moveTo(START.plusSeconds(60));

        assertThatThrownBy(() -> clock.moveTo(START)).isInstanceOf(IllegalArgumentException.class);
    }
}
