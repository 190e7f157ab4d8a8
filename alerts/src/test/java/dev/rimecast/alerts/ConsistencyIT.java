package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static dev.rimecast.alerts.life.Findings.raised;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.Topics;
import java.time.Duration;
import java.time.InstantSource;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Stream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** The same log gives the same database, wherever reading was broken off and begun again. */
class ConsistencyIT {
    private static final InstantSource CLOCK = InstantSource.fixed(NOON.plusSeconds(7200));
    private static final List<String> TOPICS = List.of(Topics.FINDINGS, Topics.CYCLES, Topics.SITES);

    private Engines engines;

    @BeforeEach
    void start() {
        Awaitility.setDefaultTimeout(Duration.ofSeconds(90));
        engines = new Engines();
    }

    @AfterEach
    void stop() {
        engines.close();
    }

    @Test
    void sameLog_brokenOffReadAgainAndReadAnew_givesTheSameDatabase() throws Exception {
        long seed = System.nanoTime();
        Random random = new Random(seed);
        Story story = new Story(seed);
        for (int part = 0; part < 4; part++) {
            story.tell(engines, 150);
            try (AlertsStage stage = engines.startStage(CLOCK)) {
                // broken off at a random amount of rows, mostly in the middle of the part
                int enough = rows() + random.nextInt(100);
                await().until(() -> stage.health().isUp() && (rows() >= enough || isTakenIn()));
            }
        }
        engines.flush();
        Map<String, List<String>> inPieces = takeAllIn();
        assertThat(inPieces)
                .allSatisfy((table, rows) -> assertThat(rows).as(table).isNotEmpty());

        for (int i = 0; i < 3; i++) {
            int per = random.nextInt(101);
            engines.jdbi()
                    .useHandle(h -> h.execute("update consumer_offset set next_offset = next_offset * ? / 100", per));
            assertThat(takeAllIn())
                    .as("read again from %s %%, seed %s", per, seed)
                    .isEqualTo(inPieces);
        }

        engines.jdbi().useHandle(h -> h.execute("drop schema public cascade; create schema public"));
        assertSame(takeAllIn(), inPieces, "read anew in one go, seed " + seed);
    }

    private static void assertSame(Map<String, List<String>> actual, Map<String, List<String>> expected, String how) {
        expected.forEach((table, rows) -> {
            List<String> others = actual.getOrDefault(table, List.of());
            assertThat(others)
                    .as("rows that only came when %s, of %s", how, table)
                    .allMatch(rows::contains);
            assertThat(others).as("%s when %s", table, how).hasSameSizeAs(rows);
        });
    }

    @Test
    void database_goneAndBack_losesNothing() throws Exception {
        try (AlertsStage stage = engines.startStage(CLOCK)) {
            Finding before = raised("ice-0001", Condition.LONG_FREEZE, NOON);
            engines.send(before);
            await().until(() -> stage.views().alert(before.id()), Optional::isPresent);

            engines.stopPostgres();
            Finding during = raised("ice-0002", Condition.LONG_FREEZE, NOON);
            engines.send(during);
            await().until(() -> stage.health().problems().containsKey("topic findings"));
            assertThat(stage.health().problems()).containsKey("database");

            engines.restartPostgres();
            await().ignoreExceptions().until(() -> stage.views().alert(during.id()), Optional::isPresent);
            await().until(() -> stage.health().isUp());
        }
    }

    @Test
    void topic_begunAnew_isReadFromItsBeginning() throws Exception {
        Finding old = raised("ice-0001", Condition.LONG_FREEZE, NOON);
        engines.send(old);
        engines.send(raised("ice-0003", Condition.LONG_FREEZE, NOON));
        engines.flush();
        takeAllIn();

        engines.beginAnew(Topics.FINDINGS);
        Finding recent = raised("ice-0002", Condition.LONG_FREEZE, NOON.plusSeconds(60));
        engines.send(recent);
        engines.flush();

        try (AlertsStage stage = engines.startStage(CLOCK)) {
            await().until(() -> stage.views().alert(recent.id()), Optional::isPresent);
            assertThat(stage.views().alert(old.id())).isPresent();
        }
    }

    private Map<String, List<String>> takeAllIn() {
        try (AlertsStage stage = engines.startStage(CLOCK)) {
            await().until(() -> stage.health().isUp() && isTakenIn());
            stage.visits().plan();
        }
        return DatabaseDump.of(engines.jdbi());
    }

    private boolean isTakenIn() {
        return TOPICS.stream().allMatch(engines::isTakenIn);
    }

    private int rows() {
        return engines.jdbi()
                .withHandle(h -> Stream.of("finding_revision", "rollup_5min")
                        .mapToInt(table -> h.createQuery("select count(*) from " + table)
                                .mapTo(Integer.class)
                                .one())
                        .sum());
    }
}
