package dev.rimecast.app.server;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.app.server.LogReach.Beginning;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.apache.kafka.common.KafkaException;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

class LogReachTest {
    private static final Instant NOON = Instant.parse("2026-05-04T12:00:00Z");

    private final SimpleMeterRegistry meters = new SimpleMeterRegistry();
    private final List<Beginning> log = new ArrayList<>();
    private boolean isAway;
    private final LogReach reach = new LogReach(
            () -> {
                if (isAway) {
                    throw new KafkaException("away");
                }
                return log;
            },
            Duration.ofDays(30),
            () -> NOON,
            meters);

    @AfterEach
    void close() {
        reach.close();
    }

    private double look() {
        reach.look();
        return meters.get("rimecast.ingest.log.reach.seconds").gauge().value();
    }

    private static Beginning beginning(long first, Duration age) {
        return new Beginning(first, Optional.of(NOON.minus(age)));
    }

    @Test
    void look_severalPartitions_tellsTheOneThatReachesBackLeast() {
        log.addAll(List.of(beginning(7, Duration.ofDays(9)), beginning(70, Duration.ofDays(4))));

        assertThat(look()).isEqualTo(Duration.ofDays(4).toSeconds());
        assertThat(meters.get("rimecast.ingest.log.retention.seconds").gauge().value())
                .isEqualTo(Duration.ofDays(30).toSeconds());
    }

    @Test
    void look_logThatHasDroppedNothing_isShortOfNothing() {
        log.addAll(List.of(beginning(0, Duration.ofHours(1)), beginning(70, Duration.ofDays(4))));
        assertThat(look()).isEqualTo(Duration.ofDays(4).toSeconds());

        log.remove(1);
        assertThat(look()).isNaN();
    }

    @Test
    void look_emptyPartition_isLeftOut() {
        log.add(new Beginning(12, Optional.empty()));

        assertThat(look()).isNaN();
    }

    @Test
    void look_kafkaAway_isNotKnown_andThenAgain() {
        log.add(beginning(1, Duration.ofDays(2)));
        look();
        isAway = true;
        assertThat(look()).isNaN();

        isAway = false;
        assertThat(look()).isEqualTo(Duration.ofDays(2).toSeconds());
    }
}
