package dev.rimecast.app.server;

import dev.rimecast.telemetry.log.Topics;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.admin.ListOffsetsResult.ListOffsetsResultInfo;
import org.apache.kafka.clients.admin.OffsetSpec;
import org.apache.kafka.clients.admin.TopicDescription;
import org.apache.kafka.common.KafkaException;
import org.apache.kafka.common.TopicPartition;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * How far back the sites' logs reach. They are kept by time and by bytes, and with a large fleet the bytes come first: then they reach less far
 * than {@code kafka.retention} says, and nothing else would tell. Looked at every minute, by Kafka's own stamps.
 */
final class LogReach implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(LogReach.class);
    private static final Duration EVERY = Duration.ofMinutes(1);
    private static final Duration TIMEOUT = Duration.ofSeconds(20);

    /**
     * Where a partition begins.
     *
     * @param first offset that is still there; above 0 older ones have been dropped
     * @param at when that one was stored; absent where there is none
     */
    record Beginning(long first, Optional<Instant> at) {}

    /** Asks for the beginning of each partition. */
    interface Beginnings {
        Collection<Beginning> now() throws KafkaException, InterruptedException;
    }

    private final Beginnings beginnings;
    private final InstantSource wall;
    private final ScheduledExecutorService thread = Executors.newSingleThreadScheduledExecutor(task -> {
        Thread of = new Thread(task, "log-reach");
        of.setDaemon(true);
        return of;
    });
    private volatile double seconds = Double.NaN;

    LogReach(Beginnings beginnings, Duration retention, InstantSource wall, MeterRegistry meters) {
        this.beginnings = beginnings;
        this.wall = wall;
        Gauge.builder("rimecast.ingest.log.reach.seconds", this, of -> of.seconds)
                .description(
                        "Age of the oldest record of the sites' log that reaches back least, of those that have dropped"
                                + " some; NaN while none has, or Kafka does not answer")
                .register(meters);
        Gauge.builder("rimecast.ingest.log.retention.seconds", retention, Duration::toSeconds)
                .description("How long the sites' logs should be kept (kafka.retention)")
                .strongReference(true)
                .register(meters);
    }

    /** Begins to look, in a thread of its own. */
    static LogReach start(Map<String, String> kafka, Duration retention, MeterRegistry meters) {
        LogReach reach = new LogReach(() -> of(kafka), retention, InstantSource.system(), meters);
        var unused = reach.thread.scheduleWithFixedDelay(reach::look, 0, EVERY.toMillis(), TimeUnit.MILLISECONDS);
        return reach;
    }

    /** A log from which nothing was dropped yet reaches as far back as there is anything. */
    void look() {
        try {
            Instant now = wall.instant();
            seconds = beginnings.now().stream()
                    .filter(beginning -> beginning.first() > 0)
                    .flatMap(beginning -> beginning.at().stream())
                    .mapToDouble(at -> Duration.between(at, now).toMillis() / 1e3)
                    .min()
                    .orElse(Double.NaN);
        } catch (KafkaException away) {
            LOG.debug("how far the sites' logs reach is not known: {}", away.toString());
            seconds = Double.NaN;
        } catch (InterruptedException closed) {
            Thread.currentThread().interrupt();
        }
    }

    private static Collection<Beginning> of(Map<String, String> kafka) throws InterruptedException {
        try (Admin admin = Admin.create(new HashMap<String, Object>(kafka))) {
            TopicDescription sites = Objects.requireNonNull(admin.describeTopics(List.of(Topics.SITES))
                    .allTopicNames()
                    .get(TIMEOUT.toMillis(), TimeUnit.MILLISECONDS)
                    .get(Topics.SITES));
            List<TopicPartition> partitions = sites.partitions().stream()
                    .map(each -> new TopicPartition(Topics.SITES, each.partition()))
                    .toList();
            Map<TopicPartition, ListOffsetsResultInfo> first = offsets(admin, partitions, OffsetSpec.earliest());
            // The first record that was stored at 1970 or later, which is the first, with its stamp.
            Map<TopicPartition, ListOffsetsResultInfo> stamped = offsets(admin, partitions, OffsetSpec.forTimestamp(0));
            return partitions.stream()
                    .map(partition -> new Beginning(
                            Objects.requireNonNull(first.get(partition)).offset(),
                            Optional.of(Objects.requireNonNull(stamped.get(partition))
                                            .timestamp())
                                    .filter(millis -> millis > 0)
                                    .map(Instant::ofEpochMilli)))
                    .toList();
        } catch (ExecutionException | TimeoutException e) {
            throw new KafkaException("Kafka does not say where the sites' logs begin: " + e.getMessage(), e);
        }
    }

    private static Map<TopicPartition, ListOffsetsResultInfo> offsets(
            Admin admin, List<TopicPartition> partitions, OffsetSpec which)
            throws ExecutionException, InterruptedException, TimeoutException {
        return admin.listOffsets(partitions.stream().collect(Collectors.toMap(Function.identity(), of -> which)))
                .all()
                .get(TIMEOUT.toMillis(), TimeUnit.MILLISECONDS);
    }

    @Override
    public void close() {
        thread.shutdownNow();
    }
}
