package dev.rimecast.ingest.kafka;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.KafkaSettings;
import dev.rimecast.engines.TopicSpec;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Two instances of ingest on one Kafka: each minute comes once to each site, whoever is there. */
class TickRotaIT {
    private static final int PARTITIONS = 6;

    @Test
    void rota_ofTwo_givesEachPartitionToOne_andAllToTheOneThatIsLeft(@TempDir Path directory) {
        try (EmbeddedKafka kafka = EmbeddedKafka.start(directory, KafkaSettings.standard(failure -> {}))) {
            kafka.createTopics(List.of(new TopicSpec("sites", PARTITIONS, Map.of())));
            TickRota one = new TickRota(kafka.client());
            try (TickRota other = new TickRota(kafka.client())) {
                one.start();
                other.start();
                await().atMost(Duration.ofSeconds(60)).untilAsserted(() -> {
                    List<Integer> ofOther = of(other);
                    assertThat(ofOther).isNotEmpty();
                    assertThat(of(one)).isNotEmpty().doesNotContainAnyElementsOf(ofOther);
                    assertThat(of(one).size() + of(other).size()).isEqualTo(PARTITIONS);
                });
                one.close();
                assertThat(of(one)).isEmpty();
                await().atMost(Duration.ofSeconds(60))
                        .untilAsserted(() -> assertThat(of(other)).hasSize(PARTITIONS));
            }
        }
    }

    private static List<Integer> of(TickRota rota) {
        return IntStream.range(0, PARTITIONS).filter(rota).boxed().toList();
    }
}
