package dev.rimecast.ingest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.kafka.letters.DeadLetter;
import dev.rimecast.ingest.kafka.letters.DeadLetterReplay;
import dev.rimecast.ingest.kafka.letters.DeadLetterReplay.Outcome;
import dev.rimecast.telemetry.log.DeadLetterHeaders;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.KafkaException;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Dead letters, written as both stages write them, and taken again with a real Kafka. */
class DeadLetterReplayIT {
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:30Z");
    private static final AtomicInteger TESTS = new AtomicInteger();

    @TempDir
    static Path directory;

    private static KafkaFixture kafka;
    private static DeadLetterReplay letters;

    /** Each test has a site. */
    private final String site = "site-" + TESTS.incrementAndGet();

    @BeforeAll
    static void startKafka() {
        kafka = new KafkaFixture(directory);
        letters = new DeadLetterReplay(kafka.client(), Duration.ofMillis(200));
    }

    @AfterAll
    static void stopKafka() {
        kafka.close();
    }

    private byte[] pack() {
        return SiteLogCodec.encode(new SiteRecord.Pack(
                "gw-1",
                Optional.of(new PackNumber("b1", 7)),
                NOW,
                List.of(Reading.number("ice-1", Channel.EVAPORATOR_TEMPERATURE, NOW.toEpochMilli(), -6)),
                0));
    }

    private void bury(byte[] value, Map<String, String> headers) throws Exception {
        var letter = new ProducerRecord<>(Topics.DEAD_LETTERS, site.getBytes(StandardCharsets.UTF_8), value);
        headers.forEach((name, header) -> letter.headers().add(name, header.getBytes(StandardCharsets.UTF_8)));
        kafka.write(List.of(letter));
    }

    private static Map<String, String> ofAnalytics(int offset) {
        return Map.of(
                DeadLetterHeaders.REASON, "process",
                DeadLetterHeaders.ERROR, "site: half way",
                DeadLetterHeaders.SOURCE_TOPIC, "sites",
                DeadLetterHeaders.SOURCE_PARTITION, "2",
                DeadLetterHeaders.SOURCE_OFFSET, Integer.toString(offset));
    }

    private static Map<String, String> ofAlerts(String topic) {
        return Map.of(
                DeadLetterHeaders.REASON, "PSQLException: no",
                DeadLetterHeaders.STAGE, "alerts",
                DeadLetterHeaders.TOPIC, topic,
                DeadLetterHeaders.PARTITION, "1",
                DeadLetterHeaders.OFFSET, "44");
    }

    private DeadLetter only() {
        List<DeadLetter> mine = letters.newest(100).stream()
                .filter(letter -> letter.key().equals(site))
                .toList();
        assertThat(mine).hasSize(1);
        return mine.get(0);
    }

    private List<ConsumerRecord<byte[], byte[]>> inTheLog() {
        return kafka.read(Topics.SITES).stream()
                .filter(row -> new String(row.key(), StandardCharsets.UTF_8).equals(site))
                .toList();
    }

    @Test
    void pack_takenAgain_isAtTheEndOfItsSitesLogOnce_andSaysWhoDidIt() throws Exception {
        bury(pack(), ofAnalytics(10));
        DeadLetter letter = only();
        assertThat(letter.source()).isEqualTo(new DeadLetter.Source("analytics", "sites", 2, 10));
        assertThat(letter.why()).isEqualTo("site: half way");
        assertThat(letter.content()).startsWith("pack of gateway gw-1");

        assertThat(letters.replay(letter.id(), "Ada", NOW)).isInstanceOf(Outcome.Done.class);
        assertThat(letters.replay(letter.id(), "Ben", NOW))
                .isInstanceOfSatisfying(
                        Outcome.NothingLeft.class,
                        nothing -> assertThat(nothing.before().by()).isEqualTo("Ada"));

        // committed, and to be read in each partition a moment later
        await().untilAsserted(() -> assertThat(inTheLog()).hasSize(1));
        assertThat(inTheLog()).singleElement().satisfies(row -> {
            assertThat(SiteLogCodec.decode(row.value())).isInstanceOf(SiteRecord.Pack.class);
            assertThat(new String(
                            row.headers()
                                    .lastHeader(DeadLetterHeaders.REPLAY_OF)
                                    .value(),
                            StandardCharsets.UTF_8))
                    .isEqualTo(letter.id());
        });
        assertThat(only().isOpen()).isFalse();
        assertThat(only().attempts()).containsExactly(new DeadLetter.Attempt(NOW, "Ada", Optional.empty()));
    }

    @Test
    void whatFailsAgain_isTheSameLetter_andMayBeTakenOnceMore() throws Exception {
        bury(pack(), ofAnalytics(11));
        String id = only().id();
        letters.replay(id, "Ada", NOW);
        // as analytics puts the repeat aside: from its new place, with the headers that it has
        Map<String, String> again = new java.util.HashMap<>(ofAnalytics(500));
        again.put(DeadLetterHeaders.REPLAY_OF, id);
        bury(pack(), again);

        assertThat(only().id()).isEqualTo(id);
        assertThat(only().isOpen()).isTrue();
        assertThat(only().attempts().get(0).failedAgain()).contains("site: half way");
        assertThat(letters.replay(id, "Ben", NOW)).isInstanceOf(Outcome.Done.class);
        await().untilAsserted(() -> assertThat(inTheLog()).hasSize(2));
        assertThat(only().attempts()).extracting(DeadLetter.Attempt::by).containsExactly("Ada", "Ben");
    }

    @Test
    void finding_ofTheDatabase_isAnOrderAndNoRecordOfItsTopic() throws Exception {
        byte[] finding = "{\"no\":\"finding\"}".getBytes(StandardCharsets.UTF_8);
        bury(finding, ofAlerts("findings"));
        // alerts was killed between the letter and its offset
        bury(finding, ofAlerts("findings"));
        DeadLetter letter = only();

        assertThat(letters.replay(letter.id(), "Ada", NOW)).isInstanceOf(Outcome.Done.class);

        assertThat(kafka.read(Topics.DEAD_LETTERS).stream()
                        .filter(row -> row.headers().lastHeader(DeadLetterHeaders.REPLAYED) != null)
                        .filter(row -> new String(row.key(), StandardCharsets.UTF_8).equals(site)))
                .singleElement()
                .satisfies(order -> {
                    assertThat(order.value()).isEqualTo(finding);
                    assertThat(new String(
                                    order.headers()
                                            .lastHeader(DeadLetterHeaders.TOPIC)
                                            .value(),
                                    StandardCharsets.UTF_8))
                            .isEqualTo("findings");
                });
        assertThat(inTheLog()).isEmpty();
    }

    @Test
    void minute_andWhatIsNotThere_areRefused() throws Exception {
        bury(SiteLogCodec.encode(new SiteRecord.Tick(NOW)), ofAnalytics(12));

        assertThat(only().obstacle()).hasValueSatisfying(why -> assertThat(why).contains("minute"));
        assertThat(letters.replay(only().id(), "Ada", NOW)).isInstanceOf(Outcome.Impossible.class);
        assertThat(only().attempts()).as("nothing was written").isEmpty();
        assertThat(letters.replay("no-such-letter", "Ada", NOW)).isInstanceOf(Outcome.Unknown.class);
    }

    @Test
    void replay_byManyAtTheSameTime_isInTheLogOnce() throws Exception {
        bury(pack(), ofAnalytics(13));
        String id = only().id();
        var threads = Executors.newFixedThreadPool(4);
        Callable<Outcome> ask = () -> {
            try {
                return letters.replay(id, "one of four", NOW);
            } catch (KafkaException putOut) {
                return new Outcome.Unknown();
            }
        };
        for (Future<Outcome> each : threads.invokeAll(List.of(ask, ask, ask, ask))) {
            each.get(60, TimeUnit.SECONDS);
        }
        threads.shutdown();
        letters.replay(id, "the last", NOW);

        await().untilAsserted(() ->
                assertThat(inTheLog()).as("whatever was aborted is not read").hasSize(1));
    }
}
