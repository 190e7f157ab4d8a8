package dev.rimecast.history.feed;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.KafkaSettings;
import dev.rimecast.engines.TopicSpec;
import dev.rimecast.history.store.StoredFile.Partition;
import dev.rimecast.history.store.StoredFile.Range;
import dev.rimecast.history.table.Taken;
import dev.rimecast.telemetry.log.Topics;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.admin.RecordsToDelete;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.KafkaException;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArraySerializer;
import org.apache.kafka.common.serialization.StringSerializer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Where reading begins, whatever has become of the log meanwhile. */
class LogFeedIT {
    private static final TopicPartition SITES = new TopicPartition(Topics.SITES, 0);

    @TempDir
    Path directory;

    @Test
    void readingGoesOnWhereTheFilesEnd_whateverBecameOfTheLog() throws Exception {
        try (EmbeddedKafka kafka = EmbeddedKafka.start(directory, KafkaSettings.standard(failure -> {}))) {
            List<TopicSpec> topics = TopicSpec.ofContract(1, Duration.ofDays(30), 1 << 30);
            kafka.createTopics(topics);
            Map<String, String> client = kafka.client();
            write(client, 10);

            Map<Partition, Long> end = new HashMap<>();
            try (LogFeed feed = new LogFeed(client, Map.of())) {
                assertThat(read(feed, 10))
                        .extracting(Taken::offset)
                        .containsExactly(0L, 1L, 2L, 3L, 4L, 5L, 6L, 7L, 8L, 9L);
                end.putAll(feed.positions());
            }
            Partition sites = end.keySet().stream()
                    .filter(partition -> partition.topic().equals(Topics.SITES))
                    .findFirst()
                    .orElseThrow();

            try (LogFeed again = new LogFeed(client, Map.of(sites, 7L))) {
                assertThat(read(again, 3)).extracting(Taken::offset).containsExactly(7L, 8L, 9L);
                assertThat(again.lost()).isEmpty();
            }
            try (Admin admin = Admin.create(new HashMap<String, Object>(client))) {
                admin.deleteRecords(Map.of(SITES, RecordsToDelete.beforeOffset(5)))
                        .all()
                        .get();
                try (LogFeed late = new LogFeed(client, Map.of(sites, 2L))) {
                    assertThat(late.lost()).containsExactly(new Range(sites, 2, 5));
                    assertThat(read(late, 5)).extracting(Taken::offset).containsExactly(5L, 6L, 7L, 8L, 9L);
                }
                assertThatThrownBy(() -> new LogFeed(client, Map.of(sites, 11L)))
                        .isInstanceOf(KafkaException.class)
                        .hasMessageContaining("sites-0 ends at 10, but the history has it up to 11")
                        .hasMessageContaining("Move the history's directory away");

                admin.deleteTopics(List.of(Topics.SITES)).all().get();
            }
            kafka.createTopics(topics);
            write(client, 2);
            try (LogFeed anew = new LogFeed(client, end)) {
                List<Taken> taken = read(anew, 2);
                assertThat(taken).extracting(Taken::offset).containsExactly(0L, 1L);
                assertThat(taken.get(0).log()).as("another log").isNotEqualTo(sites.log());
            }
        }
    }

    private static List<Taken> read(LogFeed feed, int count) {
        List<Taken> taken = new ArrayList<>();
        long limit = System.nanoTime() + Duration.ofSeconds(30).toNanos();
        while (taken.size() < count && System.nanoTime() < limit) {
            taken.addAll(feed.poll(Duration.ofMillis(200)));
        }
        return taken;
    }

    private static void write(Map<String, String> client, int count) throws Exception {
        try (KafkaProducer<String, byte[]> producer = new KafkaProducer<>(
                new HashMap<String, Object>(client), new StringSerializer(), new ByteArraySerializer())) {
            for (int i = 0; i < count; i++) {
                producer.send(new ProducerRecord<>(Topics.SITES, "harbour", new byte[] {(byte) i}))
                        .get();
            }
        }
    }
}
