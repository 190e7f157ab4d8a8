package dev.rimecast.app.faults;

import dev.rimecast.engines.EmbeddedKafka;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.ExecutionException;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.admin.ListOffsetsOptions;
import org.apache.kafka.clients.admin.OffsetSpec;
import org.apache.kafka.clients.admin.TopicDescription;
import org.apache.kafka.clients.admin.TransactionListing;
import org.apache.kafka.clients.consumer.OffsetAndMetadata;
import org.apache.kafka.common.IsolationLevel;
import org.apache.kafka.common.TopicPartition;

/** What a running server has taken in and not yet decided on, or decided and not yet made visible. */
final class Backlog implements AutoCloseable {
    private final Admin admin;

    private Backlog(Admin admin) {
        this.admin = admin;
    }

    /** @param data the data directory of a server that runs: the broker's port and secret are in files there */
    static Backlog of(Path data) {
        return of(EmbeddedKafka.clientOf(data.resolve("kafka")));
    }

    /** @param client settings of a client of the Kafka that is used */
    static Backlog of(Map<String, String> client) {
        return new Backlog(Admin.create(new HashMap<String, Object>(client)));
    }

    /** One line for each partition that is behind; empty when nothing is. */
    List<String> lines(String group, String input, String output) throws Exception {
        List<String> behind = new ArrayList<>();
        Map<TopicPartition, OffsetAndMetadata> reached = admin.listConsumerGroupOffsets(group)
                .partitionsToOffsetAndMetadata()
                .get();
        ends(input, IsolationLevel.READ_UNCOMMITTED).forEach((partition, end) -> {
            OffsetAndMetadata at = reached.get(partition);
            long done = at == null ? 0 : at.offset();
            if (done < end) {
                behind.add(partition + " is read to " + done + " of " + end);
            }
        });
        Map<TopicPartition, Long> visible = ends(output, IsolationLevel.READ_COMMITTED);
        ends(output, IsolationLevel.READ_UNCOMMITTED).forEach((partition, end) -> {
            long seen = visible.getOrDefault(partition, 0L);
            if (seen < end) {
                behind.add(partition + " is visible to " + seen + " of " + end);
            }
        });
        return behind;
    }

    /** The transactions that the broker knows, for the message of a test that waits in vain. */
    List<String> transactions() throws Exception {
        List<String> lines = new ArrayList<>();
        for (TransactionListing listing : admin.listTransactions().all().get()) {
            lines.add(listing.toString());
        }
        return lines;
    }

    private Map<TopicPartition, Long> ends(String topic, IsolationLevel level)
            throws ExecutionException, InterruptedException {
        Map<TopicPartition, OffsetSpec> latest = new HashMap<>();
        TopicDescription described = Objects.requireNonNull(
                admin.describeTopics(List.of(topic)).allTopicNames().get().get(topic));
        described
                .partitions()
                .forEach(info -> latest.put(new TopicPartition(topic, info.partition()), OffsetSpec.latest()));
        Map<TopicPartition, Long> ends = new HashMap<>();
        admin.listOffsets(latest, new ListOffsetsOptions(level))
                .all()
                .get()
                .forEach((partition, result) -> ends.put(partition, result.offset()));
        return ends;
    }

    @Override
    public void close() {
        admin.close();
    }
}
