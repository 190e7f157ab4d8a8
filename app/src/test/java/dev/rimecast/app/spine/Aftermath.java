package dev.rimecast.app.spine;

import dev.rimecast.alerts.AlertsSettings;
import dev.rimecast.alerts.AlertsStage;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.stream.SiteLogReader;
import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.EmbeddedPostgres;
import dev.rimecast.engines.KafkaSettings;
import dev.rimecast.engines.PostgresSettings;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.reading.Reading;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;

/** The data directory of a server that has ended, opened with the engines alone. */
final class Aftermath implements AutoCloseable {
    private final EmbeddedKafka kafka;
    private final EmbeddedPostgres postgres;
    private final AlertsStage alerts;

    private Aftermath(EmbeddedKafka kafka, EmbeddedPostgres postgres) {
        this.kafka = kafka;
        this.postgres = postgres;
        this.alerts = AlertsStage.start(
                new AlertsSettings(client(), postgres.jdbcUrl(), postgres.user(), postgres.password(), 6),
                InstantSource.system(),
                new SimpleMeterRegistry());
    }

    static Aftermath of(Path data) {
        return new Aftermath(
                EmbeddedKafka.start(data.resolve("kafka"), KafkaSettings.standard(failure -> {})),
                EmbeddedPostgres.start(data.resolve("postgres"), PostgresSettings.STANDARD));
    }

    private Map<String, String> client() {
        return Map.of("bootstrap.servers", kafka.bootstrapServers());
    }

    List<SiteRecord> log(String site) {
        return new SiteLogReader(client()).read(site);
    }

    List<Reading> readings(String site) {
        List<Reading> readings = new ArrayList<>();
        for (SiteRecord entry : log(site)) {
            if (entry instanceof SiteRecord.Pack pack) {
                readings.addAll(pack.readings());
            }
        }
        return readings;
    }

    List<Finding> findings() {
        return values(client(), Topics.FINDINGS, FindingJson::decode);
    }

    List<Cycle> cycles() {
        return values(client(), Topics.CYCLES, CycleJson::decode);
    }

    /** What the monitor says of the site's log when nothing ever stops it. */
    List<Finding> findingsOfTheLog(String site) {
        List<Finding> findings = new ArrayList<>();
        SiteMonitor monitor = SiteMonitor.fresh(site, Policy.standard());
        for (SiteRecord entry : log(site)) {
            monitor.accept(entry, new SiteMonitor.Output() {
                @Override
                public void cycle(Cycle cycle) {}

                @Override
                public void finding(Finding finding) {
                    findings.add(finding);
                }

                @Override
                public void proof(Proof proof) {}
            });
        }
        return findings;
    }

    List<AlertView> alerts() {
        return alerts.views().alerts(false, Optional.empty(), 100_000);
    }

    /** Every committed value of a topic. */
    static <T> List<T> values(Map<String, String> client, String topic, Function<byte[], T> decode) {
        Map<String, Object> settings = new java.util.HashMap<>(client);
        settings.put("isolation.level", "read_committed");
        settings.put("auto.offset.reset", "earliest");
        List<T> values = new ArrayList<>();
        try (KafkaConsumer<byte[], byte[]> consumer =
                new KafkaConsumer<>(settings, new ByteArrayDeserializer(), new ByteArrayDeserializer())) {
            List<TopicPartition> partitions = consumer.partitionsFor(topic).stream()
                    .map(info -> new TopicPartition(topic, info.partition()))
                    .toList();
            consumer.assign(partitions);
            consumer.seekToBeginning(partitions);
            Map<TopicPartition, Long> ends = consumer.endOffsets(partitions);
            while (partitions.stream().anyMatch(p -> consumer.position(p) < ends.getOrDefault(p, 0L))) {
                consumer.poll(Duration.ofMillis(200)).forEach(entry -> values.add(decode.apply(entry.value())));
            }
        }
        return values;
    }

    @Override
    public void close() {
        alerts.close();
        kafka.close();
        postgres.close();
    }
}
