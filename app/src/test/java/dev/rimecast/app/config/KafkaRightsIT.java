package dev.rimecast.app.config;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.analytics.stream.AnalyticsStage;
import dev.rimecast.analytics.stream.StageSettings;
import dev.rimecast.app.faults.ServeProcess;
import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.KafkaSettings;
import dev.rimecast.engines.TopicSetup;
import dev.rimecast.engines.TopicSpec;
import dev.rimecast.ingest.IngestSettings;
import dev.rimecast.ingest.IngestStage;
import dev.rimecast.ingest.kafka.RejectReplay;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Machine;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Pattern;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.acl.AccessControlEntry;
import org.apache.kafka.common.acl.AclBinding;
import org.apache.kafka.common.acl.AclOperation;
import org.apache.kafka.common.acl.AclPermissionType;
import org.apache.kafka.common.errors.AuthorizationException;
import org.apache.kafka.common.resource.PatternType;
import org.apache.kafka.common.resource.ResourcePattern;
import org.apache.kafka.common.resource.ResourceType;
import org.apache.kafka.common.serialization.ByteArraySerializer;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The table of rights in docs/security.md is what the roles need, and no more: on a broker that asks each time. */
class KafkaRightsIT {
    private static final List<String> ROLES = List.of("ingest", "analytics", "alerts", "history");
    private static final Pattern ROW = Pattern.compile(
            "\\| (every role|ingest|analytics|alerts|history) \\| ([a-z ]+)(`[^|]+`) \\| ([A-Za-z, ]+) \\|");

    private static final List<TopicSpec> TOPICS = TopicSpec.ofContract(2, Duration.ofDays(36_500), 1L << 30);

    @TempDir
    static Path directory;

    private static EmbeddedKafka kafka;
    private static int ownPort;
    private static int port;

    @BeforeAll
    static void start() throws Exception {
        kafka = EmbeddedKafka.start(
                directory.resolve("kafka"), new KafkaSettings(false, 16 << 20, 64 << 20, broker(), failure -> {}));
        try (Admin keeper = Admin.create(asKeeper())) {
            TopicSetup.apply(keeper, TOPICS, (short) 1, Duration.ofSeconds(30));
            keeper.createAcls(rights()).all().get();
        }
    }

    @AfterAll
    static void stop() {
        kafka.close();
    }

    /** A listener for the roles, each with a user of its own; ours, by which the broker speaks with itself, may do everything. */
    private static Map<String, String> broker() throws IOException {
        ownPort = ServeProcess.freePort();
        int controller = ServeProcess.freePort();
        port = ServeProcess.freePort();
        Map<String, String> config = new HashMap<>();
        config.put(
                "listeners",
                "CLIENT://127.0.0.1:" + ownPort + ",ROLES://127.0.0.1:" + port + ",CONTROLLER://127.0.0.1:"
                        + controller);
        config.put("advertised.listeners", "CLIENT://127.0.0.1:" + ownPort + ",ROLES://127.0.0.1:" + port);
        config.put("controller.quorum.voters", "1@127.0.0.1:" + controller);
        config.put(
                "listener.security.protocol.map",
                "CLIENT:SASL_PLAINTEXT,CONTROLLER:SASL_PLAINTEXT,ROLES:SASL_PLAINTEXT");
        config.put("listener.name.roles.sasl.enabled.mechanisms", "PLAIN");
        StringBuilder users = new StringBuilder("org.apache.kafka.common.security.plain.PlainLoginModule required");
        ROLES.forEach(role -> users.append(" user_" + role + "=\"of " + role + '"'));
        config.put(
                "listener.name.roles.plain.sasl.jaas.config", users.append(';').toString());
        config.put("authorizer.class.name", "org.apache.kafka.metadata.authorizer.StandardAuthorizer");
        config.put("super.users", "User:rimecast");
        return config;
    }

    /** Whom the broker lets do everything. */
    private static Map<String, Object> asKeeper() {
        return kafka.client(Map.of("bootstrap.servers", "127.0.0.1:" + ownPort));
    }

    private static Map<String, String> as(String role) {
        return Map.of(
                "bootstrap.servers",
                "127.0.0.1:" + port,
                "security.protocol",
                "SASL_PLAINTEXT",
                "sasl.mechanism",
                "PLAIN",
                "sasl.jaas.config",
                "org.apache.kafka.common.security.plain.PlainLoginModule required username=\"" + role
                        + "\" password=\"of " + role + "\";");
    }

    private static List<AclBinding> rights() throws IOException {
        List<AclBinding> all = new ArrayList<>();
        ROW.matcher(Files.readString(Path.of("../docs/security.md"))).results().forEach(row -> {
            List<String> roles = row.group(1).equals("every role") ? ROLES : List.of(row.group(1));
            String kind = row.group(2);
            ResourceType type = kind.startsWith("topic")
                    ? ResourceType.TOPIC
                    : kind.startsWith("group") ? ResourceType.GROUP : ResourceType.TRANSACTIONAL_ID;
            PatternType pattern = kind.contains("beginning with") ? PatternType.PREFIXED : PatternType.LITERAL;
            for (String name : row.group(3).replace("`", "").split(", ")) {
                for (String right : row.group(4).split(", ")) {
                    AclOperation operation = AclOperation.fromString(
                            right.replaceAll("(?<=[a-z])([A-Z])", "_$1").toUpperCase(Locale.ROOT));
                    roles.forEach(role -> all.add(new AclBinding(
                            new ResourcePattern(type, name, pattern),
                            new AccessControlEntry("User:" + role, "*", operation, AclPermissionType.ALLOW))));
                }
            }
        });
        assertThat(all).hasSizeGreaterThan(60).noneMatch(AclBinding::isUnknown);
        return all;
    }

    @Test
    void everyRole_startsOnTopicsThatItMayNotChange() {
        for (String role : ROLES) {
            try (Admin admin = Admin.create(new HashMap<String, Object>(as(role)))) {
                TopicSetup.apply(admin, TOPICS, (short) 1, Duration.ofSeconds(20));
            }
        }
    }

    @Test
    void ingestAndAnalytics_doTheirWork() throws Exception {
        write(
                asKeeper(),
                Topics.REGISTRY,
                "machine/ice-1",
                SiteLogCodec.encode(
                        new SiteRecord.Registered(Instant.EPOCH, Machine.basic("ice-1", "harbour", "gw-1"))));
        try (IngestStage ingest = IngestStage.start(
                        IngestSettings.standard(as("ingest"))
                                .withMqtt("127.0.0.1", 0)
                                .asOneOfSeveral(),
                        InstantSource.system(),
                        new SimpleMeterRegistry());
                AnalyticsStage analytics = AnalyticsStage.start(
                        StageSettings.oneMachine(as("analytics"), directory.resolve("states")),
                        new SimpleMeterRegistry());
                Admin keeper = Admin.create(asKeeper())) {
            assertThat(ingest.awaitReady(Duration.ofSeconds(30))).isTrue();
            await().atMost(Duration.ofSeconds(60))
                    .until(() ->
                            ingest.unclaimed().isEmpty() && publish(ingest, "ice-1/evaporator_temperature", "Cel"));
            assertThat(publish(ingest, "ice-1/evaporator_temperature", "Fahrenheit"))
                    .isTrue();
            assertThat(publish(ingest, "ice-9/evaporator_temperature", "Cel")).isTrue();
            await().until(() -> ingest.unclaimed().size() == 1);
            assertThat(ingest.rejects(10)).isNotEmpty();
            assertThat(ingest.replayReject(ingest.rejects(10).get(0).id(), "Ada"))
                    .isInstanceOf(RejectReplay.Outcome.Done.class);
            await().atMost(Duration.ofSeconds(60))
                    .untilAsserted(() -> assertThat(keeper.listConsumerGroupOffsets(StageSettings.APPLICATION_ID)
                                    .partitionsToOffsetAndMetadata()
                                    .get()
                                    .values())
                            .as("analytics has committed what ingest wrote")
                            .anyMatch(committed -> committed != null && committed.offset() > 0));
            await().untilAsserted(() -> assertThat(keeper.describeConsumerGroups(List.of("rimecast-ticks"))
                            .all()
                            .get())
                    .hasEntrySatisfying(
                            "rimecast-ticks",
                            group -> assertThat(group.members()).hasSize(1)));
            assertThat(analytics.isAlive()).isTrue();
        }
    }

    @Test
    void whatIsNotTheirs_isRefused() {
        Map<String, List<String>> notTheirs = Map.of(
                "ingest", List.of(Topics.FINDINGS, Topics.REGISTRY, Topics.CREDENTIALS, Topics.ALERTS),
                "analytics", List.of(Topics.SITES, Topics.REGISTRY, Topics.CREDENTIALS),
                "alerts", List.of(Topics.FINDINGS, Topics.REJECTS),
                "history", List.of(Topics.SITES, Topics.FINDINGS));
        notTheirs.forEach((role, topics) ->
                topics.forEach(topic -> assertThatThrownBy(() -> write(as(role), topic, "x", new byte[0]))
                        .as("%s writes to %s", role, topic)
                        .hasCauseInstanceOf(AuthorizationException.class)));
    }

    private static boolean publish(IngestStage ingest, String name, String unit) throws Exception {
        MqttAsyncClient client =
                new MqttAsyncClient("tcp://127.0.0.1:" + ingest.mqttPort(), "c", new MemoryPersistence());
        client.connect(new MqttConnectionOptions()).waitForCompletion(10_000);
        byte[] pack = ("[{\"n\":\"" + name + "\",\"u\":\"" + unit + "\",\"v\":1}]").getBytes(StandardCharsets.UTF_8);
        client.publish("fleet/gw-1/senml", pack, 1, false).waitForCompletion(10_000);
        client.disconnect().waitForCompletion(5_000);
        client.close();
        return true;
    }

    private static void write(Map<String, ?> as, String topic, String key, byte[] value) throws Exception {
        try (KafkaProducer<byte[], byte[]> producer = new KafkaProducer<>(
                new HashMap<String, Object>(as), new ByteArraySerializer(), new ByteArraySerializer())) {
            producer.send(new ProducerRecord<>(topic, key.getBytes(StandardCharsets.UTF_8), value))
                    .get();
        }
    }
}
