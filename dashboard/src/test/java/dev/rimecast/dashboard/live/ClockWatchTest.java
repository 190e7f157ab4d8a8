package dev.rimecast.dashboard.live;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeChanges;
import dev.rimecast.dashboard.json.WireFormat;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class ClockWatchTest {
    private Instant now = Instant.parse("2026-05-04T00:00:00Z");
    private long nanos;
    private final LiveHub hub = new LiveHub(new FakeChanges(), "boot", WireFormat.mapper());
    private final Outbox screen = hub.open(
                    UUID.randomUUID(),
                    new LiveFilter(SiteScope.EVERY, Set.of("alert"), Optional.empty()),
                    Optional.empty())
            .orElseThrow();
    private final ClockWatch watch = new ClockWatch(hub, () -> now, () -> nanos, () -> now.toString());

    @Test
    void look_clockRunsAsTheWall_tellsNothing() throws InterruptedException {
        pass(Duration.ofSeconds(60), Duration.ofSeconds(60));

        assertThat(next()).isInstanceOf(Outbox.Next.Quiet.class);
    }

    @Test
    void look_clockRaces_tellsTheTime() throws InterruptedException {
        pass(Duration.ofHours(4), Duration.ofSeconds(1));

        assertThat(next())
                .isInstanceOfSatisfying(
                        Outbox.Next.Send.class,
                        send -> assertThat(send.events())
                                .extracting(LiveEvent::data)
                                .containsExactly("2026-05-04T04:00:00Z"));
    }

    private void pass(Duration product, Duration wall) {
        now = now.plus(product);
        nanos += wall.toNanos();
        watch.look();
    }

    private Outbox.Next next() throws InterruptedException {
        return screen.take(Duration.ZERO, Duration.ofMillis(1));
    }
}
