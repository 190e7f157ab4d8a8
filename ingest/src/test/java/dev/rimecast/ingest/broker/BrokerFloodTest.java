package dev.rimecast.ingest.broker;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.intake.LineDecoder;
import dev.rimecast.ingest.intake.Write;
import dev.rimecast.ingest.mqtt.HandStore;
import dev.rimecast.ingest.mqtt.PackNumbers;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.reading.RejectReason;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** One gateway that floods the broker that all share. */
class BrokerFloodTest {
    private static final int MAY = 20;
    private static final Register REGISTER = new Register(
            List.of(Machine.basic("ice-1", "harbour", "gw-1"), Machine.basic("ice-2", "harbour", "gw-2")), List.of());

    private final HandBroker broker = new HandBroker(new HandStore().answeringAtOnce());
    private final BrokerSubscriber subscriber = broker.subscriber(
            HandBroker.settings().withLimits(new BrokerLimits(10, MAY)),
            () -> Optional.of(REGISTER),
            Duration.ofSeconds(5));
    private HandLine line;

    @BeforeEach
    void connect() {
        broker.gatekeeper.inForce(Map.of());
        subscriber.start();
        await().until(() -> !broker.lines.isEmpty());
        line = broker.lines.get(0);
        line.listener.up(false);
        await().until(() -> subscriber.health().isConnected());
    }

    @AfterEach
    void close() {
        subscriber.close();
    }

    private void brings(String gateway, String machine, int number, boolean isNumbered) {
        line.listener.arrived(new Line.Arrival(
                "fleet/" + gateway + "/senml",
                LineDecoder.line(machine, Channel.EVAPORATOR_TEMPERATURE, HandLine.NOW, number)
                        .getBytes(StandardCharsets.UTF_8),
                1,
                number,
                new PackNumbers.Result(
                        isNumbered ? Optional.of(new PackNumber("b1", number)) : Optional.empty(), Optional.empty())));
    }

    private void flood(int packs) {
        IntStream.rangeClosed(1, packs).forEach(number -> brings("gw-1", "ice-1", number, false));
        settle();
    }

    private double letGo() {
        return broker.meters
                .get("rimecast.ingest.broker.over.limit.let.go")
                .counter()
                .count();
    }

    private void settle() {
        subscriber.settle();
        subscriber.settle();
    }

    private List<Write.ToRejects> rejects() {
        return broker.store.writes().stream()
                .filter(Write.ToRejects.class::isInstance)
                .map(Write.ToRejects.class::cast)
                .toList();
    }

    private List<SiteRecord.Pack> packs() {
        return broker.store.writes().stream()
                .filter(Write.ToSite.class::isInstance)
                .map(write -> (SiteRecord.Pack) ((Write.ToSite) write).entry())
                .toList();
    }

    @Test
    void whatIsOver_withoutNumbers_isKeptAmongTheRejects() {
        flood(MAY + 5);

        assertThat(packs())
                .hasSize(MAY)
                .allSatisfy(pack -> assertThat(pack.readings()).hasSize(1));
        assertThat(rejects()).hasSize(5).allSatisfy(reject -> {
            assertThat(reject.sender()).isEqualTo("gw-1");
            assertThat(reject.rejects())
                    .singleElement()
                    .satisfies(r -> assertThat(r.reason()).isEqualTo(RejectReason.TOO_MANY_PACKS));
            assertThat(new String(reject.payload(), StandardCharsets.UTF_8)).startsWith("ice-1 ");
        });
        assertThat(broker.store.taken.get(MAY).decision().tally().rejected())
                .as("counted")
                .isEqualTo(Map.of(RejectReason.TOO_MANY_PACKS, 1));
    }

    /** The store of the gateway has them still: no number of theirs is in its site's log, so nobody tells it to delete them. */
    @Test
    void whatIsOver_withNumbers_isLeftToTheGatewaysStore_andTheBrokerIsHeldBackByNoneOfIt() {
        int packs = MAY + 300;
        IntStream.rangeClosed(1, packs).forEach(number -> brings("gw-1", "ice-1", number, true));
        settle();

        assertThat(broker.store.taken).hasSize(MAY);
        assertThat(letGo()).isEqualTo(300);
        assertThat(packs().get(MAY - 1).number()).contains(new PackNumber("b1", MAY));
        assertThat(line.acknowledged)
                .containsExactlyElementsOf(
                        IntStream.rangeClosed(1, packs).boxed().toList());

        broker.nanos.addAndGet(Duration.ofSeconds(1).toNanos());
        brings("gw-1", "ice-1", MAY + 1, true);
        settle();
        assertThat(packs().get(MAY).number()).as("sent again").contains(new PackNumber("b1", MAY + 1));
    }

    @Test
    void whatIsFarOver_isCountedAndNotKept() {
        flood(MAY + Allowances.KEPT_REJECTS + 300);

        assertThat(broker.store.taken).hasSize(MAY + Allowances.KEPT_REJECTS);
        assertThat(letGo()).isEqualTo(300);
    }

    @Test
    void packOfAnotherGateway_behindTheFlood_isTaken() {
        flood(MAY + Allowances.KEPT_REJECTS + 300);
        int before = broker.store.taken.size();
        brings("gw-2", "ice-2", 1, true);
        settle();

        assertThat(broker.store.taken).hasSize(before + 1);
        assertThat(packs().get(packs().size() - 1).gateway()).isEqualTo("gw-2");
        assertThat(packs().get(packs().size() - 1).readings()).hasSize(1);
    }

    @Test
    void afterAWhile_theGatewayIsTakenInAgain() {
        flood(MAY + 5);
        broker.nanos.addAndGet(Duration.ofSeconds(1).toNanos());
        int before = rejects().size();
        flood(10);

        assertThat(rejects()).hasSize(before);
    }

    /** A gateway that may not come through the broker has its flood kept under nobody's name. */
    @Test
    void floodInTheNameOfAGatewayWithKeys_isKeptAsNobodys() {
        broker.gatekeeper.inForce(Map.of("gw-1", List.of()));
        flood(MAY + 5);

        assertThat(rejects())
                .hasSize(MAY + 5)
                .allSatisfy(reject -> assertThat(reject.sender()).isEqualTo("unknown"));
        assertThat(packs()).isEmpty();
    }
}
