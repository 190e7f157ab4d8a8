package dev.rimecast.ingest.kafka;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.intake.Decision;
import dev.rimecast.ingest.intake.Reject;
import dev.rimecast.ingest.intake.Tally;
import dev.rimecast.ingest.intake.Write;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.reading.RejectReason;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.HashSet;
import java.util.List;
import java.util.OptionalInt;
import java.util.Set;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicReference;
import java.util.stream.StreamSupport;
import org.apache.kafka.clients.producer.MockProducer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.clients.producer.RoundRobinPartitioner;
import org.apache.kafka.common.Cluster;
import org.apache.kafka.common.Node;
import org.apache.kafka.common.PartitionInfo;
import org.apache.kafka.common.errors.TimeoutException;
import org.apache.kafka.common.serialization.ByteArraySerializer;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

class LogWriterTest {
    private static final Instant AT = Instant.parse("2026-05-04T12:00:00Z");
    private static final Node NODE = new Node(0, "localhost", 1);
    private static final Cluster CLUSTER = new Cluster(
            "c",
            List.of(NODE),
            List.of(partition("sites", 0), partition("sites", 1), partition("rejects", 0), partition("unclaimed", 0)),
            Set.of(),
            Set.of());

    private final MockProducer<byte[], byte[]> producer = new MockProducer<>(
            CLUSTER, false, new RoundRobinPartitioner(), new ByteArraySerializer(), new ByteArraySerializer());
    private final LogWriter writer = new LogWriter(producer, new InFlight(3, 1 << 20, System::nanoTime));
    private final List<Boolean> answers = new CopyOnWriteArrayList<>();

    @AfterEach
    void close() {
        writer.close();
    }

    @Test
    void answer_waitsForEveryRecordOfTheMessage() {
        writer.store(decision(presence(), rejects()), answers::add);
        await().until(() -> producer.history().size() == 2);

        producer.completeNext();
        assertThat(answers).isEmpty();
        producer.completeNext();
        assertThat(answers).containsExactly(true);
        assertThat(writer.messagesInFlight()).isZero();
        assertThat(writer.bytesInFlight()).isZero();
    }

    @Test
    void answer_isNo_whereOneRecordFails() {
        writer.store(decision(presence(), rejects()), answers::add);
        await().until(() -> producer.history().size() == 2);
        producer.errorNext(new TimeoutException("expired"));
        producer.completeNext();

        assertThat(answers).containsExactly(false);
    }

    @Test
    void record_thatSendWouldNotTake_isOfferedAgainUntilItDoes() {
        producer.sendException = new TimeoutException("no metadata");
        writer.store(decision(presence()), answers::add);
        await().during(Duration.ofMillis(100)).until(() -> answers.isEmpty());
        producer.sendException = null;

        await().until(() -> producer.history().size() == 1);
        producer.completeNext();
        assertThat(answers).containsExactly(true);
    }

    /** Nobody else writes while one waits: what comes behind it must not overtake it. */
    @Test
    void record_behindOneThatSendWouldNotTake_waitsForIt() {
        producer.sendException = new TimeoutException("no metadata");
        writer.store(decision(rejects()), answers::add);
        producer.sendException = null;
        writer.store(decision(presence()), answers::add);

        await().until(() -> producer.history().size() == 2);
        assertThat(producer.history()).extracting(ProducerRecord::topic).containsExactly("rejects", "sites");
        producer.completeNext();
        producer.completeNext();
        assertThat(answers).containsExactly(true, true);
    }

    /** Event loops call it: with nothing in the way the producer has the record when the call returns. */
    @Test
    void store_handsOverByItself() {
        writer.store(decision(presence()), answers::add);

        assertThat(producer.history()).hasSize(1);
    }

    @Test
    void full_whenTheBoundIsReached_andRoomIsAnnounced() {
        AtomicReference<String> called = new AtomicReference<>("");
        writer.onRoom(() -> called.set("room"));
        for (int i = 0; i < 3; i++) {
            writer.store(decision(presence()), answers::add);
        }
        assertThat(writer.isFull()).isTrue();
        await().until(() -> producer.history().size() == 3);
        producer.completeNext();
        producer.completeNext();
        assertThat(writer.isFull()).isFalse();
        assertThat(called).hasValue("room");
    }

    @Test
    void close_answersNo_forWhatWasNeverConfirmed() {
        writer.store(decision(presence()), answers::add);
        await().until(() -> producer.history().size() == 1);
        writer.close();
        writer.store(decision(presence()), answers::add);

        assertThat(answers).contains(false);
    }

    @Test
    void reject_carriesPayloadOnce_andAHeaderForEachRecord() {
        writer.store(decision(rejects()), answers::add);
        await().until(() -> producer.history().size() == 1);
        ProducerRecord<byte[], byte[]> written = producer.history().get(0);

        assertThat(written.topic()).isEqualTo("rejects");
        assertThat(written.key()).asString(StandardCharsets.UTF_8).isEqualTo("gw-1");
        assertThat(written.value()).asString(StandardCharsets.UTF_8).isEqualTo("payload");
        assertThat(StreamSupport.stream(written.headers().spliterator(), false)
                        .map(h -> h.key() + "=" + new String(h.value(), StandardCharsets.UTF_8)))
                .containsExactly(
                        "topic=fleet/gw-1/senml",
                        "received-at=2026-05-04T12:00:00Z",
                        "rejected=3 fahrenheit convert it",
                        "rejected=- bad-number seq without boot");
    }

    @Test
    void tick_goesToEveryPartition_onceAMinute_andNotWhileOneIsUnderWay() {
        AtomicReference<Instant> now = new AtomicReference<>(AT.plusSeconds(30));
        Ticker ticker = new Ticker(writer, () -> false, (InstantSource) now::get);

        assertThat(ticker.tickIfDue()).isFalse();
        now.set(AT.plusSeconds(60));
        assertThat(ticker.tickIfDue()).isTrue();
        await().until(() -> producer.history().size() == 2);
        assertThat(producer.history()).extracting(ProducerRecord::partition).containsExactly(0, 1);
        assertThat(producer.history()).allSatisfy(written -> {
            assertThat(written.key()).isNull();
            assertThat(SiteLogCodec.decode(written.value())).isEqualTo(new SiteRecord.Tick(AT.plusSeconds(60)));
        });

        // Seven minutes pass while Kafka has not confirmed the last tick: none; then one, for the minute it is now.
        now.set(AT.plusSeconds(60 * 8 + 5));
        assertThat(ticker.tickIfDue()).isFalse();
        producer.completeNext();
        producer.completeNext();
        assertThat(ticker.tickIfDue()).isTrue();
        assertThat(ticker.tickIfDue()).isFalse();
        await().until(() -> producer.history().size() == 4);
        assertThat(SiteLogCodec.decode(producer.history().get(3).value()))
                .isEqualTo(new SiteRecord.Tick(AT.plusSeconds(60 * 8)));
    }

    @Test
    void tick_ofOneOfSeveral_goesToItsPartitionsOnly() {
        AtomicReference<Instant> now = new AtomicReference<>(AT);
        Set<Integer> ours = new HashSet<>();
        Ticker ticker = new Ticker(writer, () -> false, (InstantSource) now::get, ours::contains);

        now.set(AT.plusSeconds(60));
        assertThat(ticker.tickIfDue())
                .as("another instance has every partition")
                .isFalse();
        ours.add(1);
        now.set(AT.plusSeconds(120));
        assertThat(ticker.tickIfDue()).isTrue();

        await().until(() -> producer.history().size() == 1);
        assertThat(producer.history()).extracting(ProducerRecord::partition).containsExactly(1);
    }

    @Test
    void tick_whileGatewaysAreHeldBack_isNotWritten() {
        AtomicReference<Instant> now = new AtomicReference<>(AT);
        Ticker ticker = new Ticker(writer, () -> false, (InstantSource) now::get);
        for (int i = 0; i < 3; i++) {
            writer.store(decision(presence()), answers::add);
        }
        now.set(AT.plusSeconds(60));

        assertThat(ticker.tickIfDue()).isFalse();
    }

    private static PartitionInfo partition(String topic, int number) {
        return new PartitionInfo(topic, number, NODE, new Node[] {NODE}, new Node[] {NODE});
    }

    private static Decision decision(Write... writes) {
        return new Decision(List.of(writes), Tally.NONE, false, 0);
    }

    private static Write presence() {
        return new Write.ToSite("harbour", new SiteRecord.Presence(AT, "gw-1", true));
    }

    private static Write rejects() {
        return new Write.ToRejects(
                "gw-1",
                "fleet/gw-1/senml",
                "payload".getBytes(StandardCharsets.UTF_8),
                AT,
                List.of(
                        new Reject(RejectReason.FAHRENHEIT, OptionalInt.of(3), "convert it"),
                        new Reject(RejectReason.BAD_NUMBER, OptionalInt.empty(), "seq without boot")));
    }
}
