package dev.rimecast.ingest.broker;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.ack.LastAcks;
import dev.rimecast.ingest.intake.Write;
import dev.rimecast.ingest.mqtt.Gatekeeper;
import dev.rimecast.ingest.mqtt.HandStore;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.gateway.GatewayKey;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.reading.RejectReason;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

/**
 * Whoever may publish at the broker writes the name of a gateway into the topic. Its key can't come that way: so what comes for a gateway
 * with keys is taken only where somebody has said that the broker looks at who publishes what.
 */
class BrokerKeysTest {
    private static final Register REGISTER =
            new Register(List.of(Machine.basic("ice-1", "harbour", "gw-1")), List.of());
    private static final List<GatewayKey> IN_FORCE = List.of(key(Optional.empty()));
    private static final List<GatewayKey> ENDED = List.of(key(Optional.of(HandLine.NOW)));
    private static final List<GatewayKey> REVOKED = List.of();

    private final HandBroker broker = new HandBroker(new HandStore().answeringAtOnce());
    private final List<HandLine> lines = broker.lines;
    private final HandStore store = broker.store;
    private final LastAcks acks = broker.acks;
    private final Gatekeeper gatekeeper = broker.gatekeeper;
    private Optional<BrokerSubscriber> subscriber = Optional.empty();

    private static GatewayKey key(Optional<Instant> until) {
        return new GatewayKey(GatewayKey.Kind.SECRET, GatewayKey.digest("a secret"), until);
    }

    private BrokerSubscriber started(boolean trustsTopics) {
        BrokerSubscriber made = broker.subscriber(
                HandBroker.settings().trustingTopics(trustsTopics), () -> Optional.of(REGISTER), Duration.ofSeconds(5));
        subscriber = Optional.of(made);
        made.start();
        return made;
    }

    private HandLine connected(boolean trustsTopics, Map<String, List<GatewayKey>> keys) {
        gatekeeper.inForce(keys);
        BrokerSubscriber made = started(trustsTopics);
        await().until(() -> !lines.isEmpty());
        lines.get(0).listener.up(false);
        await().until(() -> made.health().isConnected());
        return lines.get(0);
    }

    /** A pack and two presences in the name of gw-1. */
    private void brings(HandLine line) {
        store.taken.clear();
        line.brings(1);
        line.brings("fleet/gw-1/presence", 1, 2, "offline");
        line.brings("fleet/gw-1/presence", 1, 3, "online");
        settle();
    }

    private void settle() {
        subscriber.orElseThrow().settle();
        subscriber.orElseThrow().settle();
    }

    private void assertRejected() {
        assertThat(store.writes())
                .hasSize(3)
                .allSatisfy(write -> assertThat(write).isInstanceOfSatisfying(Write.ToRejects.class, rejects -> {
                    assertThat(rejects.sender())
                            .as("it is not kept as gw-1's, so that it is never taken again as such")
                            .isEqualTo("unknown");
                    assertThat(rejects.rejects()).singleElement().satisfies(reject -> {
                        assertThat(reject.reason()).isEqualTo(RejectReason.KEY_NOT_SHOWN);
                        assertThat(reject.detail()).contains("gw-1", "keys", "broker");
                    });
                }));
        assertThat(store.taken)
                .as("counted")
                .allSatisfy(taken -> assertThat(taken.decision().tally().rejected())
                        .isEqualTo(Map.of(RejectReason.KEY_NOT_SHOWN, 1)));
    }

    private void assertTakenIn() {
        assertThat(store.writes()).isNotEmpty().hasOnlyElementsOfType(Write.ToSite.class);
    }

    @AfterEach
    void close() {
        subscriber.ifPresent(BrokerSubscriber::close);
    }

    @Test
    void gatewayWithAKey_isRejected_andItsAcknowledgementsAreNotTold() {
        HandLine line = connected(false, Map.of("gw-1", IN_FORCE));
        acks.note(ack(7));
        brings(line);
        subscriber.orElseThrow().tell(ack(8));
        settle();

        assertRejected();
        assertThat(line.acknowledged).as("it does not come again for ever").containsExactly(1, 2, 3);
        assertThat(line.published).isEmpty();
    }

    @Test
    void gatewayWhoseKeysEnded_isRejected_alsoFromABrokerThatLooksAtTopics() {
        HandLine line = connected(true, Map.of("gw-1", REVOKED));
        brings(line);
        assertRejected();

        gatekeeper.inForce(Map.of("gw-1", ENDED));
        brings(line);
        assertRejected();
    }

    @Test
    void gatewayWithAKey_isTakenInFromABrokerThatLooksAtTopics_andRevokedAtOnce() {
        HandLine line = connected(true, Map.of("gw-1", IN_FORCE));
        acks.note(ack(7));
        brings(line);
        assertTakenIn();
        assertThat(line.published).isNotEmpty();

        gatekeeper.inForce(Map.of("gw-1", REVOKED));
        brings(line);
        assertRejected();
    }

    @Test
    void gatewayWithoutKeys_goesOn_besideOneThatHasSome_untilItIsGivenOne() {
        HandLine line = connected(false, Map.of("gw-2", IN_FORCE));
        brings(line);
        assertTakenIn();

        gatekeeper.inForce(Map.of("gw-1", IN_FORCE, "gw-2", IN_FORCE));
        brings(line);
        assertRejected();
    }

    @Test
    void keys_thatAreNotRead_meanNoConnectionYet() {
        BrokerSubscriber early = started(true);
        await().untilAsserted(() -> assertThat(early.health().inWords()).contains("keys"));
        assertThat(lines).isEmpty();

        gatekeeper.inForce(Map.of());
        await().until(() -> lines.size() == 1);
    }

    private static GatewayAck ack(long seq) {
        return new GatewayAck("gw-1", new PackNumber("b1", seq), 0);
    }
}
