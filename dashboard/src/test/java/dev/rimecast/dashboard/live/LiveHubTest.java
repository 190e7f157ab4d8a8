package dev.rimecast.dashboard.live;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeChanges;
import dev.rimecast.dashboard.json.WireFormat;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class LiveHubTest {
    private static final LiveFilter ALL = new LiveFilter(SiteScope.EVERY, Set.of(), Optional.empty());
    private static final UUID ADA = UUID.fromString("00000000-0000-0000-0000-00000000000a");
    private final FakeChanges changes = new FakeChanges();
    private final LiveHub hub = new LiveHub(changes, "boot", WireFormat.mapper());

    @Test
    void open_withLastIdWithinTheRing_sendsWhatWasMissed() throws InterruptedException {
        changes.publish("alert", "ice-1", "a");
        changes.publish("alert", "ice-2", "b");

        assertThat(take(ALL, "boot-1")).isInstanceOfSatisfying(Outbox.Next.Send.class, send -> {
            assertThat(send.events()).extracting(LiveEvent::machine).containsExactly("ice-2");
            assertThat(send.events().get(0).data()).isEqualTo("{\"machine\":\"ice-2\",\"alert\":\"b\"}");
        });
    }

    @Test
    void open_withLastIdOlderThanTheRing_resets() throws InterruptedException {
        for (int i = 0; i < 1_030; i++) {
            changes.publish("cycle", "ice-1", "");
        }

        assertThat(take(ALL, "boot-3")).isEqualTo(new Outbox.Next.Reset(1_030));
    }

    @Test
    void open_withIdOfAnEarlierStart_resets() throws InterruptedException {
        changes.publish("cycle", "ice-1", "");

        assertThat(take(ALL, "other-1")).isEqualTo(new Outbox.Next.Reset(1));
    }

    @Test
    void open_withIdFromTheFuture_resets() throws InterruptedException {
        assertThat(take(ALL, "boot-99")).isEqualTo(new Outbox.Next.Reset(0));
    }

    @Test
    void open_withNewestId_isQuiet() throws InterruptedException {
        changes.publish("cycle", "ice-1", "");

        assertThat(take(ALL, "boot-1")).isInstanceOf(Outbox.Next.Quiet.class);
    }

    @Test
    void everything_resetsEveryScreen_andThoseThatComeBackFromBefore() throws InterruptedException {
        changes.publish("cycle", "ice-1", "");
        Outbox open = hub.open(ADA, ALL, Optional.empty()).orElseThrow();
        long alerts = hub.alertChanges();

        changes.publish(Change.EVERYTHING);

        assertThat(open.take(Duration.ZERO, Duration.ofMillis(1))).isEqualTo(new Outbox.Next.Reset(2));
        assertThat(take(ALL, "boot-1")).isEqualTo(new Outbox.Next.Reset(2));
        assertThat(take(ALL, "boot-2")).isInstanceOf(Outbox.Next.Quiet.class);
        assertThat(hub.alertChanges()).as("no kept answer is given any more").isGreaterThan(alerts);
    }

    @Test
    void filter_ofOneMachineAndKind_leavesOutTheRest() throws InterruptedException {
        LiveFilter filter = new LiveFilter(SiteScope.EVERY, Set.of("alert"), Optional.of("ice-1"));
        Outbox outbox = hub.open(ADA, filter, Optional.empty()).orElseThrow();
        changes.publish("alert", "ice-2", "x");
        changes.publish("reading", "ice-1", "");
        changes.publish("alert", "ice-1", "y");

        assertThat(outbox.take(Duration.ZERO, Duration.ofMillis(1)))
                .isInstanceOfSatisfying(
                        Outbox.Next.Send.class,
                        send -> assertThat(send.events())
                                .extracting(LiveEvent::subject)
                                .containsExactly("y"));
    }

    @Test
    void filter_ofOneSite_leavesOutTheOthersAlsoOfWhatWasMissed() throws InterruptedException {
        LiveFilter filter = new LiveFilter(SiteScope.of(List.of("site-2")), Set.of(), Optional.empty());
        Outbox outbox = hub.open(ADA, filter, Optional.empty()).orElseThrow();
        changes.publish("alert", "site-1", "ice-1", "x");
        changes.publish("alert", "site-2", "ice-2", "y");

        for (Outbox each :
                List.of(outbox, hub.open(ADA, filter, Optional.of("boot-0")).orElseThrow())) {
            assertThat(each.take(Duration.ZERO, Duration.ofMillis(1)))
                    .isInstanceOfSatisfying(
                            Outbox.Next.Send.class,
                            send -> assertThat(send.events())
                                    .extracting(LiveEvent::machine)
                                    .containsExactly("ice-2"));
        }
    }

    @Test
    void close_withViewers_endsThemAndTakesNoMore() throws InterruptedException {
        Outbox outbox = hub.open(ADA, ALL, Optional.empty()).orElseThrow();
        hub.close();

        assertThat(outbox.take(Duration.ZERO, Duration.ofSeconds(5))).isInstanceOf(Outbox.Next.End.class);
        assertThat(hub.open(ADA, ALL, Optional.empty())).isEmpty();
        assertThat(changes.listeners()).isZero();
    }

    @Test
    void open_asManyAsOneMayHave_isRefusedToThem_andNotToOthers() {
        List<Outbox> screens = new ArrayList<>();
        for (int i = 0; i < LiveHub.MOST_OF_ONE; i++) {
            screens.add(hub.open(ADA, ALL, Optional.empty()).orElseThrow());
        }
        assertThat(hub.open(ADA, ALL, Optional.empty())).isEmpty();
        assertThat(hub.hasMost(ADA)).isTrue();
        assertThat(hub.open(UUID.randomUUID(), ALL, Optional.empty())).isPresent();

        hub.leave(screens.get(0));
        assertThat(hub.open(ADA, ALL, Optional.empty())).isPresent();
    }

    private Outbox.Next take(LiveFilter filter, String lastId) throws InterruptedException {
        return hub.open(ADA, filter, Optional.of(lastId)).orElseThrow().take(Duration.ZERO, Duration.ofMillis(1));
    }
}
