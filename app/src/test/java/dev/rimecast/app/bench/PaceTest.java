package dev.rimecast.app.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.dashboard.bench.Progress;
import java.time.Duration;
import java.util.OptionalLong;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

class PaceTest {
    private final AtomicLong nanos = new AtomicLong();
    private final AtomicBoolean isWanted = new AtomicBoolean(true);
    private final Pace pace = new Pace(nanos::get, isWanted::get);

    private void after(int seconds) {
        nanos.set(Duration.ofSeconds(seconds).toNanos());
    }

    @Test
    void timeLeft_isToldFromWhatIsDone_onceItSaysSomething() {
        assertThat(pace.progress()).isEmpty();

        after(1);
        pace.at(100, 1_000);
        assertThat(pace.progress()).contains(new Progress(100, 1_000, OptionalLong.empty()));

        after(20);
        pace.at(400, 1_000);
        assertThat(pace.progress()).contains(new Progress(400, 1_000, OptionalLong.of(30)));
    }

    @Test
    void timeLeft_isToldFromWhatThisRunHasDone_notFromWhatAnEarlierOneHas() {
        pace.kept(400);
        after(10);
        pace.at(400, 1_000);
        assertThat(pace.progress()).contains(new Progress(400, 1_000, OptionalLong.empty()));

        after(20);
        pace.at(500, 1_000);
        assertThat(pace.progress()).contains(new Progress(500, 1_000, OptionalLong.of(100)));
    }

    @Test
    void whatNobodyWants_stopsAtItsNextStep() {
        pace.at(1, 10);
        isWanted.set(false);

        assertThatThrownBy(() -> pace.at(2, 10)).isInstanceOf(Pace.Stopped.class);
    }
}
