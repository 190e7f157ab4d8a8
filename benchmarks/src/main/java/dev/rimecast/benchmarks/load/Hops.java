package dev.rimecast.benchmarks.load;

import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.ToLongFunction;
import org.apache.kafka.clients.consumer.ConsumerConfig;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.errors.WakeupException;
import org.apache.kafka.common.header.Header;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;

/** Where an alert's time goes: a reader of its own follows the findings as they are committed. By the wall's clock, which all hops share. */
final class Hops implements AutoCloseable {
    private final KafkaConsumer<byte[], byte[]> consumer;
    private final Thread thread = new Thread(this::read, "load-findings");
    private final Map<String, Way> ways = new ConcurrentHashMap<>();

    /** Times of one probe, ms; 0 where it has not been yet. */
    private static final class Way {
        private volatile long sent;
        private volatile long logged;
        private volatile long decided;
        private volatile long committed;
        private volatile long alert;

        boolean isWhole() {
            return sent > 0 && logged > 0 && alert > 0;
        }
    }

    /** @param kafka how to reach it */
    Hops(Map<String, String> kafka) {
        Map<String, Object> config = new HashMap<>(kafka);
        config.put(ConsumerConfig.ISOLATION_LEVEL_CONFIG, "read_committed");
        consumer = new KafkaConsumer<>(config, new ByteArrayDeserializer(), new ByteArrayDeserializer());
        List<TopicPartition> all = consumer.partitionsFor(Topics.FINDINGS).stream()
                .map(each -> new TopicPartition(each.topic(), each.partition()))
                .toList();
        consumer.assign(all);
        consumer.seekToEnd(all);
        all.forEach(consumer::position);
        thread.start();
    }

    private void read() {
        try (consumer) {
            while (true) {
                for (ConsumerRecord<byte[], byte[]> each : consumer.poll(Duration.ofSeconds(1))) {
                    take(each, System.currentTimeMillis());
                }
            }
        } catch (WakeupException e) {
            // the end of the run
        }
    }

    private void take(ConsumerRecord<byte[], byte[]> each, long now) {
        Finding finding = FindingJson.decode(each.value());
        Way way = ways.get(finding.machine().orElse(""));
        Header header = each.headers().lastHeader(Topics.RECORDED_AT_HEADER);
        if (way != null && way.logged == 0 && finding.step() == Finding.Step.RAISED && header != null) {
            way.decided = each.timestamp();
            way.committed = now;
            way.logged = Instant.parse(new String(header.value(), StandardCharsets.UTF_8))
                    .toEpochMilli();
        }
    }

    /** @param at before it was sent, ms */
    void sent(String machine, long at) {
        Way way = new Way();
        way.sent = at;
        ways.put(machine, way);
    }

    void alert(String machine) {
        Way way = ways.get(machine);
        if (way != null && way.alert == 0) {
            way.alert = System.currentTimeMillis();
        }
    }

    void clear() {
        ways.clear();
    }

    /** Median and 99th percentile of each hop, of the probes that came all the way. */
    Measure tell(Measure measure) {
        Measure told = told(measure, "until logged", way -> way.logged - way.sent);
        told = told(told, "until decided", way -> way.decided - way.logged);
        told = told(told, "until committed", way -> way.committed - way.decided);
        return told(told, "until in the database", way -> way.alert - way.committed);
    }

    private Measure told(Measure measure, String name, ToLongFunction<Way> millis) {
        List<Long> sorted = new ArrayList<>();
        ways.values().stream().filter(Way::isWhole).mapToLong(millis).sorted().forEach(sorted::add);
        if (sorted.isEmpty()) {
            return measure;
        }
        return measure.with(name + ", median ms", sorted.get(sorted.size() / 2))
                .with(name + ", 99 % within ms", sorted.get((int) Math.ceil(sorted.size() * 0.99) - 1));
    }

    @Override
    public void close() throws InterruptedException {
        consumer.wakeup();
        thread.join();
    }
}
