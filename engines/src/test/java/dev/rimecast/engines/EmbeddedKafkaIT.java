package dev.rimecast.engines;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.admin.Config;
import org.apache.kafka.clients.admin.TopicDescription;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.config.ConfigResource;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;
import org.apache.kafka.common.serialization.ByteArraySerializer;
import org.apache.kafka.common.utils.internals.Exit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class EmbeddedKafkaIT {
    private static final KafkaSettings SETTINGS = KafkaSettings.standard(failure -> {});

    @TempDir
    Path directory;

    @Test
    void restart_keepsPortAndRecords() throws Exception {
        String address;
        try (EmbeddedKafka kafka = EmbeddedKafka.start(directory, SETTINGS)) {
            kafka.createTopics(List.of(new TopicSpec("kept", 3, Map.of())));
            send(kafka, 100);
            address = kafka.bootstrapServers();
        }
        try (EmbeddedKafka kafka = EmbeddedKafka.start(directory, SETTINGS)) {
            assertThat(kafka.bootstrapServers()).isEqualTo(address);
            assertThat(readAll(kafka)).hasSize(100);
        }
    }

    @Test
    void killUnderLoad_losesNothingThatWasAcknowledged() throws Exception {
        List<Integer> acknowledged;
        try (ChildJvm child = ChildJvm.start(EngineChild.class, "kafka", directory.toString())) {
            acknowledged = child.readLines("acked", 5000).stream()
                    .map(Integer::valueOf)
                    .toList();
        }
        try (EmbeddedKafka kafka = EmbeddedKafka.start(directory, SETTINGS)) {
            assertThat(readAll(kafka)).containsAll(acknowledged);
        }
    }

    @Test
    void directoryInUse_isRefusedWithTheReason() throws Exception {
        try (ChildJvm child = ChildJvm.start(EngineChild.class, "kafka", directory.toString())) {
            child.awaitLine("ready");
            assertThatThrownBy(() -> EmbeddedKafka.start(directory, SETTINGS))
                    .isInstanceOf(EngineException.class)
                    .hasMessageContaining(directory.toString())
                    .hasMessageContaining("in use by another process");
        }
    }

    @Test
    void portTakenMeanwhile_anotherIsUsed() throws Exception {
        int port;
        try (EmbeddedKafka kafka = EmbeddedKafka.start(directory, SETTINGS)) {
            port = portOf(kafka);
        }
        try (ServerSocket thief = new ServerSocket(port, 1, InetAddress.getLoopbackAddress());
                EmbeddedKafka kafka = EmbeddedKafka.start(directory, SETTINGS)) {
            assertThat(thief.isBound()).isTrue();
            assertThat(portOf(kafka)).isNotEqualTo(port);
            assertThat(kafka.isRunning()).isTrue();
        }
    }

    @Test
    void startThatFails_saysWhyAndLeavesTheProcessAndDirectoryFree() throws Exception {
        try (ServerSocket thief = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            String controller = "127.0.0.1:" + freePort();
            Map<String, String> takenPort = Map.of(
                    "listeners", "CLIENT://127.0.0.1:" + thief.getLocalPort() + ",CONTROLLER://" + controller,
                    "controller.quorum.voters", "1@" + controller);
            KafkaSettings busy = new KafkaSettings(true, 128 << 20, 1 << 30, takenPort, failure -> {});
            assertThatThrownBy(() -> EmbeddedKafka.start(directory, busy))
                    .isInstanceOf(EngineException.class)
                    .hasMessageContaining(directory.toString());
        }
        try (EmbeddedKafka kafka = EmbeddedKafka.start(directory, SETTINGS)) {
            assertThat(kafka.isRunning()).isTrue();
        }
    }

    /** An index of aborted transactions is not forced to disk, so a power cut may tear it. */
    @Test
    void indexOfAbortedTransactions_thatIsTorn_isMadeAnew() throws Exception {
        try (EmbeddedKafka kafka = EmbeddedKafka.start(directory, SETTINGS)) {
            kafka.createTopics(List.of(new TopicSpec("kept", 3, Map.of())));
            abort(kafka, 50);
            send(kafka, 100);
        }
        List<Path> indexes = indexesOfAborted();
        assertThat(indexes).isNotEmpty();
        for (Path index : indexes) {
            byte[] bytes = Files.readAllBytes(index);
            bytes[0] = (byte) 0xff;
            Files.write(index, bytes);
        }
        try (EmbeddedKafka kafka = EmbeddedKafka.start(directory, SETTINGS)) {
            assertThat(kafka.isRunning()).isTrue();
            assertThat(readAll(kafka)).as("what was aborted stays out").hasSize(100);
        }
        assertThat(indexesOfAborted()).as("made anew").containsExactlyElementsOf(indexes);
    }

    private List<Path> indexesOfAborted() throws Exception {
        try (Stream<Path> files = Files.walk(directory.resolve("log"))) {
            return files.filter(file -> file.toString().endsWith(".txnindex")
                            && file.toFile().length() > 0)
                    .sorted()
                    .toList();
        }
    }

    private static void abort(EmbeddedKafka kafka, int records) {
        try (KafkaProducer<byte[], byte[]> producer = new KafkaProducer<>(
                kafka.client(Map.of("transactional.id", "aborts")),
                new ByteArraySerializer(),
                new ByteArraySerializer())) {
            producer.initTransactions();
            producer.beginTransaction();
            for (int i = 0; i < records; i++) {
                byte[] text = String.valueOf(-1 - i).getBytes(StandardCharsets.UTF_8);
                producer.send(new ProducerRecord<>("kept", text, text));
            }
            producer.flush();
            producer.abortTransaction();
        }
    }

    @Test
    void logs_thatCanNotBeRead_areToldAtTheStart() throws Exception {
        try (EmbeddedKafka kafka = EmbeddedKafka.start(directory, SETTINGS)) {
            kafka.createTopics(List.of(new TopicSpec("kept", 1, Map.of())));
            send(kafka, 10);
        }
        // A directory that is no partition: what Kafka does not understand while it loads its logs.
        Files.createDirectories(directory.resolve("log/of-somebody-else"));
        assertThatThrownBy(() -> EmbeddedKafka.start(directory, SETTINGS))
                .isInstanceOf(EngineException.class)
                .hasMessageContaining("gave up while it read its logs");
    }

    @Test
    void fatalFault_isToldAndDoesNotEndTheProcess() throws Exception {
        List<EngineFailure> told = new CopyOnWriteArrayList<>();
        try (EmbeddedKafka kafka = EmbeddedKafka.start(directory, KafkaSettings.standard(told::add))) {
            // What Kafka's LogManager does when its last directory fails.
            assertThatThrownBy(() -> Exit.halt(1, "all log directories have failed"))
                    .isInstanceOf(EngineException.class);
            assertThat(told).containsExactly(new EngineFailure("kafka", 1, "all log directories have failed"));
            assertThat(kafka.isRunning()).isFalse();
        }
    }

    private static Config configOf(Admin admin, ConfigResource topic) throws Exception {
        return requireNonNull(admin.describeConfigs(List.of(topic)).all().get().get(topic));
    }

    @Test
    void topicsOfTheContract_areMadeOnceAndBroughtLevel() throws Exception {
        try (EmbeddedKafka kafka = EmbeddedKafka.start(directory, SETTINGS)) {
            kafka.createTopics(TopicSpec.oneMachine());
            kafka.createTopics(TopicSpec.ofContract(12, Duration.ofDays(3), 1 << 20));

            try (Admin admin = Admin.create(kafka.client(Map.of()))) {
                TopicDescription found = requireNonNull(admin.describeTopics(List.of("sites"))
                        .allTopicNames()
                        .get()
                        .get("sites"));
                assertThat(found.partitions()).hasSize(12);
                ConfigResource sites = new ConfigResource(ConfigResource.Type.TOPIC, "sites");
                // The controller has it; the broker that is asked hears of it a moment later.
                await().untilAsserted(() -> assertThat(
                                configOf(admin, sites).get("retention.ms").value())
                        .isEqualTo(String.valueOf(Duration.ofDays(3).toMillis())));
                Config config = configOf(admin, sites);
                assertThat(config.get("message.timestamp.type").value()).isEqualTo("LogAppendTime");
                assertThat(config.get("flush.messages").value()).isEqualTo("1");
                TopicSetup.apply(
                        admin,
                        List.of(TopicSpec.oneMachine().get(0).withMinInSync(2)),
                        (short) 3,
                        Duration.ofSeconds(20));
                await().untilAsserted(() -> assertThat(configOf(admin, sites)
                                .get("min.insync.replicas")
                                .value())
                        .isEqualTo("2"));
            }
            assertThatThrownBy(() -> kafka.createTopics(TopicSpec.ofContract(6, Duration.ofDays(30), 1 << 20)))
                    .isInstanceOf(EngineException.class)
                    .hasMessageContaining("12 partitions");
        }
    }

    private static int freePort() throws Exception {
        try (ServerSocket probe = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return probe.getLocalPort();
        }
    }

    private static int portOf(EmbeddedKafka kafka) {
        return Integer.parseInt(kafka.bootstrapServers().substring("127.0.0.1:".length()));
    }

    private static void send(EmbeddedKafka kafka, int count) {
        try (KafkaProducer<byte[], byte[]> producer =
                new KafkaProducer<>(kafka.client(Map.of()), new ByteArraySerializer(), new ByteArraySerializer())) {
            for (int i = 0; i < count; i++) {
                byte[] text = String.valueOf(i).getBytes(StandardCharsets.UTF_8);
                producer.send(new ProducerRecord<>("kept", text, text));
            }
        }
    }

    private static Set<Integer> readAll(EmbeddedKafka kafka) {
        try (KafkaConsumer<byte[], byte[]> consumer = new KafkaConsumer<>(
                kafka.client(Map.of("isolation.level", "read_committed")),
                new ByteArrayDeserializer(),
                new ByteArrayDeserializer())) {
            List<TopicPartition> partitions = IntStream.range(0, 3)
                    .mapToObj(p -> new TopicPartition("kept", p))
                    .toList();
            consumer.assign(partitions);
            consumer.seekToBeginning(partitions);
            Map<TopicPartition, Long> ends = consumer.endOffsets(partitions);
            Set<Integer> numbers = new HashSet<>();
            while (partitions.stream().anyMatch(p -> consumer.position(p) < requireNonNull(ends.get(p)))) {
                for (ConsumerRecord<byte[], byte[]> entry : consumer.poll(Duration.ofMillis(200))) {
                    numbers.add(Integer.parseInt(new String(entry.value(), StandardCharsets.UTF_8)));
                }
            }
            return numbers;
        }
    }

    @Test
    void dataDirectory_holdsEverything() throws Exception {
        try (EmbeddedKafka kafka = EmbeddedKafka.start(directory, SETTINGS)) {
            assertThat(kafka.isRunning()).isTrue();
            assertThat(Files.exists(directory.resolve("log/meta.properties"))).isTrue();
            assertThat(Files.readAllLines(directory.resolve("ports"))).hasSize(2);
        }
    }
}
