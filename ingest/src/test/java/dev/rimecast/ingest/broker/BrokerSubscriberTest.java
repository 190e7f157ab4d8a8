package dev.rimecast.ingest.broker;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.ack.LastAcks;
import dev.rimecast.ingest.intake.LineDecoder;
import dev.rimecast.ingest.intake.Write;
import dev.rimecast.ingest.mqtt.HandStore;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** The subscriber with lines and a store that answer when the test says so. */
class BrokerSubscriberTest {
    private static final Register REGISTER =
            new Register(List.of(Machine.basic("ice-1", "harbour", "gw-1")), List.of());
    private static final int RECEIVE_MAXIMUM = 5;

    private final HandBroker broker = new HandBroker(new HandStore());
    private final List<HandLine> lines = broker.lines;
    private final HandStore store = broker.store;
    private final LastAcks acks = broker.acks;
    private final SimpleMeterRegistry meters = broker.meters;
    private volatile Optional<Register> register = Optional.of(REGISTER);
    private final BrokerSubscriber subscriber = broker.subscriber(
            new BrokerSettings(
                    "mqtt://127.0.0.1",
                    "ingest-1",
                    "rimecast",
                    Optional.empty(),
                    false,
                    RECEIVE_MAXIMUM,
                    BrokerLimits.STANDARD,
                    BrokerSettings.SESSION_EXPIRY),
            () -> register,
            Duration.ofSeconds(2));

    @BeforeEach
    void start() {
        broker.gatekeeper.inForce(Map.of());
        subscriber.start();
    }

    @AfterEach
    void close() {
        subscriber.close();
    }

    private HandLine line(int number) {
        await().until(() -> lines.size() >= number);
        return lines.get(number - 1);
    }

    private HandLine connected(int number) {
        HandLine line = line(number);
        line.listener.up(number > 1);
        await().until(() -> subscriber.health().isConnected());
        return line;
    }

    private void answer(int number, boolean isStored) {
        store.taken.get(number - 1).done().accept(isStored);
        subscriber.settle();
    }

    private double count(String name) {
        return meters.get("rimecast.ingest.broker." + name).counter().count();
    }

    @Test
    void message_isAcknowledgedWhenStored_notBefore_andInOrder() {
        HandLine line = connected(1);
        line.brings(11);
        line.brings(12);
        line.brings(13);
        subscriber.settle();
        assertThat(store.taken).hasSize(3);
        assertThat(line.acknowledged).isEmpty();

        answer(2, true);
        assertThat(line.acknowledged).isEmpty();
        answer(1, true);
        assertThat(line.acknowledged).containsExactly(11, 12);
        answer(3, true);
        assertThat(line.acknowledged).containsExactly(11, 12, 13);
    }

    @Test
    void firstConnection_thatCanNotBeMade_isTriedAgain() {
        line(1).listener.down("refused");
        line(2).listener.down("refused");
        connected(3);

        assertThat(lines.subList(0, 2)).allMatch(line -> line.isDropped);
        assertThat(count("connections")).isOne();
    }

    @Test
    void connection_thatNobodyAnswers_isGivenUpAndTriedAgain() {
        line(2);

        assertThat(lines.get(0).isDropped).isTrue();
    }

    @Test
    void health_saysWhyTheBrokerIsAway() {
        assertThat(subscriber.health().isConnected()).isFalse();
        connected(1).listener.down("connection reset");
        await().until(() -> !subscriber.health().isConnected());

        assertThat(subscriber.health().inWords()).contains("mqtt://127.0.0.1", "is away", "connection reset");
    }

    @Test
    void broker_whileNothingIsTakenIn_isLeftAloneWithThePacks_andAskedAgainAfterwards() {
        HandLine first = connected(1);
        store.setClosed(true);
        first.brings(7);
        subscriber.settle();

        assertThat(first.isDropped).isTrue();
        assertThat(first.acknowledged).isEmpty();
        assertThat(store.taken).isEmpty();
        await().during(Duration.ofMillis(200)).until(() -> lines.size() == 1);
        assertThat(subscriber.health().inWords()).contains("left alone and keeps the packs");

        store.setClosed(false);
        HandLine second = connected(2);
        second.brings(7);
        subscriber.settle();
        answer(1, true);
        assertThat(second.acknowledged).containsExactly(7);
    }

    @Test
    void answer_afterTheConnectionEnded_acknowledgesNothingAnywhere() {
        HandLine first = connected(1);
        first.brings(7);
        first.brings(8);
        subscriber.settle();
        first.listener.down("reset");
        subscriber.settle();
        answer(1, true);
        answer(2, true);
        HandLine second = connected(2);
        second.brings(7);
        subscriber.settle();

        assertThat(first.acknowledged).isEmpty();
        assertThat(second.acknowledged).isEmpty();
        assertThat(count("receipts.late")).isEqualTo(2);
        answer(3, true);
        assertThat(second.acknowledged).containsExactly(7);
    }

    @Test
    void nextConnection_waitsUntilNothingOfTheLastIsUnderWay() {
        HandLine first = connected(1);
        first.brings(1);
        subscriber.settle();
        first.listener.down("reset");
        await().untilAsserted(
                        () -> assertThat(subscriber.health().inWords()).contains("Kafka has not confirmed 1 packs"));
        assertThat(lines).hasSize(1);

        answer(1, true);
        connected(2);
    }

    @Test
    void write_thatKafkaDidNotConfirm_endsTheConnectionSoThatItComesAgain() {
        HandLine first = connected(1);
        first.brings(1);
        first.brings(2);
        subscriber.settle();
        answer(2, true);
        answer(1, false);

        assertThat(first.isDropped).isTrue();
        assertThat(first.acknowledged).isEmpty();
        connected(2).brings(1);
        subscriber.settle();
        assertThat(store.taken).hasSize(3);
    }

    @Test
    void whatAnEndedConnectionStillBrings_isLeftToTheBroker() {
        HandLine first = connected(1);
        first.listener.down("reset");
        first.brings(1);
        subscriber.settle();

        assertThat(store.taken).isEmpty();
    }

    @Test
    void newsOfAnEndedConnection_doNotHurtTheNext() {
        HandLine first = connected(1);
        first.listener.down("reset");
        HandLine second = connected(2);
        first.listener.down("once more");
        first.listener.up(true);
        subscriber.settle();

        assertThat(second.isDropped).isFalse();
        assertThat(subscriber.health().isConnected()).isTrue();
        assertThat(count("connections")).isEqualTo(2);
    }

    @Test
    void poison_isAcknowledgedWhenItIsAmongTheRejects() {
        HandLine line = connected(1);
        line.brings("fleet/gw-1/senml", 1, 1, "!");
        subscriber.settle();

        assertThat(store.writes()).hasOnlyElementsOfType(Write.ToRejects.class);
        answer(1, true);
        assertThat(line.acknowledged).containsExactly(1);
    }

    /** {@link LineDecoder} throws on a channel that is none: a mistake in our own code. */
    @Test
    void messageThatOurCodeChokesOn_isKeptAmongTheRejects_andTheOthersGoOn() {
        HandLine line = connected(1);
        line.brings("fleet/gw-1/senml", 1, 1, "ice-1 no_channel 0 0");
        line.brings(2);
        subscriber.settle();
        answer(1, true);
        answer(2, true);

        assertThat(store.writes().get(0)).isInstanceOf(Write.ToRejects.class);
        assertThat(line.acknowledged).containsExactly(1, 2);
    }

    @Test
    void topic_isTheIdentity_soManyGatewaysShareTheLine() {
        HandLine line = connected(1);
        line.brings("fleet/gw-1/presence", 1, 1, "online");
        line.brings("fleet/gw-2/senml", 1, 2, "!");
        subscriber.settle();

        assertThat(store.writes().get(0)).isInstanceOf(Write.ToSite.class);
        assertThat(store.writes().get(1))
                .isInstanceOfSatisfying(
                        Write.ToRejects.class,
                        rejects -> assertThat(rejects.sender()).isEqualTo("gw-2"));
    }

    @Test
    void qos0_isTakenWhileThereIsRoom_andCountedWhenThereIsNot() {
        HandLine line = connected(1);
        line.brings("fleet/gw-1/senml", 0, 0, "!");
        subscriber.settle();
        store.setFull(true);
        line.brings("fleet/gw-1/senml", 0, 0, "!");
        subscriber.settle();

        assertThat(store.taken).hasSize(1);
        assertThat(count("unpromised.dropped")).isOne();
    }

    @Test
    void register_thatIsNotRead_meansNoConnectionYet() {
        subscriber.close();
        register = Optional.empty();
        lines.clear();
        BrokerSubscriber early = broker.subscriber(HandBroker.settings(), () -> register, Duration.ofSeconds(5));
        early.start();
        await().untilAsserted(() -> assertThat(early.health().inWords()).contains("register"));
        assertThat(lines).isEmpty();

        register = Optional.of(REGISTER);
        await().until(() -> lines.size() == 1);
        early.close();
    }

    @Test
    void turnedAway_takesNothingMore_butStillAcknowledges_andLeavesPolitely() {
        HandLine line = connected(1);
        line.brings(1);
        subscriber.settle();
        subscriber.turnAway();
        line.brings(2);
        answer(1, true);
        subscriber.close();

        assertThat(store.taken).hasSize(1);
        assertThat(line.acknowledged).containsExactly(1);
        assertThat(line.hasLeft).isTrue();
    }

    @Test
    void ack_isPublished_oneUnderWayForEachMessage_andTheNewestOfAGateway() {
        HandLine line = connected(1);
        for (int gateway = 1; gateway <= AckPublisher.UNDER_WAY; gateway++) {
            subscriber.tell(ack("gw-x" + gateway, 1));
        }
        subscriber.tell(ack("gw-1", 6));
        subscriber.tell(ack("gw-1", 7));
        subscriber.settle();
        assertThat(line.published).hasSize(AckPublisher.UNDER_WAY);

        line.published.get(0).done().run();
        subscriber.settle();

        assertThat(line.published).hasSize(AckPublisher.UNDER_WAY + 1);
        assertThat(line.published.get(AckPublisher.UNDER_WAY).topic()).isEqualTo("fleet/gw-1/ack");
        assertThat(line.published.get(AckPublisher.UNDER_WAY).payload()).isEqualTo("{\"boot\":\"b1\",\"seq\":7}");
    }

    @Test
    void gatewayThatComesOnline_isToldTheLastAck() {
        acks.note(ack("gw-1", 7));
        HandLine line = connected(1);
        line.brings("fleet/gw-1/presence", 1, 1, "offline");
        line.brings("fleet/gw-2/presence", 1, 2, "online");
        subscriber.settle();
        assertThat(line.published).isEmpty();

        line.brings("fleet/gw-1/presence", 1, 3, "online");
        subscriber.settle();

        assertThat(line.published).singleElement().satisfies(p -> {
            assertThat(p.topic()).isEqualTo("fleet/gw-1/ack");
            assertThat(p.payload()).isEqualTo("{\"boot\":\"b1\",\"seq\":7}");
        });
    }

    @Test
    void ack_whileTheBrokerIsAway_isNotKept_andAnOldLinesAnswerFreesNothing() {
        HandLine first = connected(1);
        subscriber.tell(ack("gw-1", 1));
        subscriber.settle();
        first.listener.down("cut");
        subscriber.tell(ack("gw-1", 2));
        HandLine second = connected(2);
        first.published.get(0).done().run();
        subscriber.settle();
        assertThat(second.published).isEmpty();

        for (int gateway = 1; gateway <= AckPublisher.UNDER_WAY + 1; gateway++) {
            subscriber.tell(ack("gw-x" + gateway, 1));
        }
        subscriber.settle();
        assertThat(second.published).hasSize(AckPublisher.UNDER_WAY);
    }

    private static GatewayAck ack(String gateway, long seq) {
        return new GatewayAck(gateway, new PackNumber("b1", seq), 0);
    }
}
