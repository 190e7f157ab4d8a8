package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.EmbeddedPostgres;
import dev.rimecast.engines.KafkaSettings;
import dev.rimecast.engines.PostgresSettings;
import dev.rimecast.telemetry.log.Topics;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;

/**
 * Each stage in a process of its own, of ingest two, between them Kafka and a database that outlive them: one process after the other is
 * killed under load, and the lines to Kafka and to the database are spoiled. The gateways' door leads to one ingest, and to the other
 * when that is killed, so what one was about to write comes again by the other. Then the sums. {@code -Dfaults=long} kills each ten times
 * and spoils both lines in every way, {@code -Dfaults.seed} gives other moments.
 */
class StagesApartIT {
    private static final long SEED = Long.getLong("faults.seed", 20261130);
    private static final boolean IS_LONG = "long".equals(System.getProperty("faults"));
    private static final int KILLS_OF_EACH = IS_LONG ? 10 : 1;
    private static final List<FaultProxy.Mode> MODES = IS_LONG
            ? List.of(
                    FaultProxy.Mode.BLACK_HOLE, FaultProxy.Mode.HALF_OPEN, FaultProxy.Mode.RESET, FaultProxy.Mode.SLOW)
            : List.of(FaultProxy.Mode.BLACK_HOLE);
    private static final String INGEST_A = "ingest-a";
    private static final String INGEST_B = "ingest-b";
    private static final Duration SPOILED = Duration.ofSeconds(IS_LONG ? 20 : 8);
    private static final Duration START = Duration.ofSeconds(90 * Bench.PATIENCE);

    /** Kept after a failure: everything that happened is in it. */
    @TempDir(cleanup = CleanupMode.ON_SUCCESS)
    Path directory;

    private final Random random = new Random(SEED);
    private final Map<String, ServeProcess> stages = new LinkedHashMap<>();
    private final List<String> done = new ArrayList<>();
    private int hot;

    @Test
    void stagesKilledAndLinesSpoiled_loseNothing_andDecideNothingTwice() throws Exception {
        NoticeSinks sinks = new NoticeSinks();
        try (sinks;
                FaultProxy kafkaLine = new FaultProxy();
                FaultProxy databaseLine = new FaultProxy();
                FaultProxy door = new FaultProxy();
                EmbeddedKafka kafka = EmbeddedKafka.start(directory.resolve("kafka"), behind(kafkaLine));
                EmbeddedPostgres database =
                        EmbeddedPostgres.start(directory.resolve("postgres"), PostgresSettings.STANDARD)) {
            kafkaLine.leadTo(port(kafka.bootstrapServers()));
            URI url = URI.create(database.jdbcUrl().substring("jdbc:".length()));
            databaseLine.leadTo(url.getPort());
            write(kafkaLine, database, "jdbc:postgresql://127.0.0.1:" + databaseLine.port() + url.getPath(), sinks);
            ClusterSums sums = new ClusterSums(kafka.client(), sql -> rows(database, sql));
            door.leadTo(stage(INGEST_A).mqttPort());
            try (Generator generator =
                    new Generator(directory.resolve("generator"), "tcp://127.0.0.1:" + door.port())) {
                for (ServeProcess stage : stages.values()) {
                    stage.start();
                }
                for (ServeProcess stage : stages.values()) {
                    stage.awaitReady(START);
                }
                generator.start();
                ClusterSums.awaitCovered(generator, 20);
                kills(generator, door);
                lines(generator, "Kafka", kafkaLine);
                lines(generator, "the database", databaseLine);
                assertThat(generator.drain(ClusterSums.HEAL))
                        .as("everything sent is covered in the end, %s", inWords())
                        .isTrue();
                await().atMost(START).untilAsserted(() -> {
                    assertThat(sinks.mailed()).as("I7 mails").hasSizeGreaterThanOrEqualTo(hot);
                    assertThat(sinks.posted()).as("I7 posts").hasSizeGreaterThanOrEqualTo(hot);
                });
                // No tick comes any more: the log stands still.
                for (String ingest : List.of(INGEST_A, INGEST_B)) {
                    assertThat(stage(ingest).stop(Duration.ofSeconds(30 * Bench.PATIENCE)))
                            .isTrue();
                }
                sums.awaitDecided();
                sums.hold(inWords(), Accounts.read(generator.ledger()));
                new Invariants(inWords(), Accounts.read(generator.ledger()), Map.of())
                        .everybodyIsTold(sql -> rows(database, sql), sinks, hot);
                assertThat(Aftermath.values(kafka.client(), Topics.REJECTS, bytes -> bytes))
                        .as("I10 rejects, %s", inWords())
                        .isEmpty();
                assertThat(Aftermath.values(kafka.client(), Topics.DEAD_LETTERS, bytes -> bytes))
                        .as("I10 dead letters, %s", inWords())
                        .isEmpty();
                System.out.println("stages: " + inWords());
            } finally {
                for (ServeProcess stage : stages.values()) {
                    stage.close();
                }
            }
        }
    }

    /** Kafka tells its clients where it is, so it has to name the line. */
    private static KafkaSettings behind(FaultProxy line) {
        KafkaSettings standard = KafkaSettings.standard(failure -> {});
        return new KafkaSettings(
                standard.flushEveryMessage(),
                standard.segmentBytes(),
                standard.defaultRetentionBytes(),
                Map.of("advertised.listeners", "CLIENT://127.0.0.1:" + line.port()),
                standard.onFailure());
    }

    private static int port(String address) {
        return Integer.parseInt(address.substring(address.lastIndexOf(':') + 1));
    }

    private void write(FaultProxy kafkaLine, EmbeddedPostgres database, String url, NoticeSinks sinks)
            throws Exception {
        sinks.write(directory.resolve("notices.yaml"));
        Bench.writeRegister(directory.resolve("machines.csv"));
        Path password = Files.writeString(directory.resolve("database-password"), database.password());
        Path owner = Files.writeString(directory.resolve("owner-password"), database.ownerPassword());
        String kafka = """
                kafka:
                  bootstrap-servers: 127.0.0.1:%d
                  sasl: scram-sha-512
                  username: rimecast
                  password-file: %s
                """.formatted(kafkaLine.port(), directory.resolve("kafka/password"));
        String data = """
                database:
                  url: %s
                  user: %s
                  password-file: %s
                  owner: %s
                  owner-password-file: %s
                fleet:
                  register: %s
                notices:
                  file: %s
                """.formatted(
                        url,
                        database.user(),
                        password,
                        database.owner(),
                        owner,
                        directory.resolve("machines.csv"),
                        directory.resolve("notices.yaml"));
        add("alerts", "alerts, dashboard", kafka + data);
        add(INGEST_A, "ingest", kafka + "  instance: a\n");
        add(INGEST_B, "ingest", kafka + "  instance: b\n");
        add("analytics", "analytics", kafka);
    }

    private void add(String name, String roles, String more) throws Exception {
        Path home = Files.createDirectories(directory.resolve(name));
        stages.put(name, ServeProcess.alone(home, "roles: [" + roles + "]\n" + more));
    }

    private ServeProcess stage(String name) {
        return Optional.ofNullable(stages.get(name)).orElseThrow();
    }

    private static List<List<String>> rows(EmbeddedPostgres database, String sql) throws Exception {
        return TextRows.of(
                java.sql.DriverManager.getConnection(database.jdbcUrl(), database.owner(), database.ownerPassword()),
                sql);
    }

    private void kills(Generator generator, FaultProxy door) throws Exception {
        for (int kill = 1; kill <= KILLS_OF_EACH; kill++) {
            for (Map.Entry<String, ServeProcess> stage : stages.entrySet()) {
                faultAndHeal(generator, "kill " + kill + " of " + stage.getKey(), () -> {
                    sayHot(generator);
                    loadFor(generator, Duration.ofMillis(300 + random.nextInt(3_000)));
                    stage.getValue().kill();
                    switch (stage.getKey()) {
                        case INGEST_A -> door.leadTo(stage(INGEST_B).mqttPort());
                        case INGEST_B -> door.leadTo(stage(INGEST_A).mqttPort());
                        default -> {
                            // The gateways stay where they are.
                        }
                    }
                    loadFor(generator, Duration.ofSeconds(1));
                    stage.getValue().start();
                    stage.getValue().awaitReady(START);
                });
            }
        }
    }

    private void lines(Generator generator, String where, FaultProxy line) throws Exception {
        for (FaultProxy.Mode mode : MODES) {
            faultAndHeal(generator, "line to " + where + ": " + mode, () -> {
                sayHot(generator);
                line.be(mode);
                loadFor(generator, SPOILED);
                line.be(FaultProxy.Mode.PASS);
            });
        }
    }

    /** Another live site gets too hot, of which somebody is to be told. */
    private void sayHot(Generator generator) throws Exception {
        if (hot < LiveSites.ALL.size()) {
            generator.hot(hot);
            hot++;
        }
    }

    private static void loadFor(Generator generator, Duration time) {
        await().during(time).atMost(time.plusSeconds(10)).until(generator::isAlive);
    }

    private void faultAndHeal(Generator generator, String name, Bench.Fault fault) throws Exception {
        long start = System.nanoTime();
        done.add(name);
        fault.run();
        long faulty = System.nanoTime();
        ClusterSums.awaitCovered(generator, 0);
        // Covered tells of ingest; the others must be back, too, before the next one.
        stages.values().forEach(stage -> stage.awaitReady(START));
        System.out.printf(
                "stages: %s: %.1f s, healed after %.1f s%n",
                name, (faulty - start) / 1e9, (System.nanoTime() - faulty) / 1e9);
    }

    private String inWords() {
        return "after " + done + ", seed " + SEED;
    }
}
