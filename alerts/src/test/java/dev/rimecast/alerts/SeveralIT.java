package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static dev.rimecast.alerts.life.Findings.raised;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.DatabaseTurn;
import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Queue;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.stream.IntStream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;

/** Two instances of the stage that start at the same moment on one empty database. */
@TestInstance(Lifecycle.PER_CLASS)
class SeveralIT {
    private static final int SITES = 24;
    private static final Person ADA = new Person("ada");

    private Engines engines;
    private AlertsStage one;
    private AlertsStage other;

    @BeforeAll
    void start() {
        Awaitility.setDefaultTimeout(Duration.ofSeconds(60));
        engines = new Engines();
        CompletableFuture<AlertsStage> first = CompletableFuture.supplyAsync(() -> stage("a"));
        other = stage("b");
        one = first.join();
        CompletableFuture<Void> alsoRead = CompletableFuture.runAsync(() -> know(one));
        know(other);
        alsoRead.join();
    }

    @AfterAll
    void stop() {
        one.close();
        other.close();
        engines.close();
    }

    private AlertsStage stage(String name) {
        Map<String, String> kafka = new HashMap<>(engines.settings().kafka());
        kafka.put("group.instance.id", "alerts-" + name);
        return AlertsStage.start(
                new AlertsSettings(kafka, engines.login(), 8), () -> NOON.plusSeconds(600), new SimpleMeterRegistry());
    }

    private static void know(AlertsStage stage) {
        List<Machine> machines = IntStream.range(0, SITES)
                .mapToObj(i -> Machine.basic("ice-" + i, "site-" + i, "gateway-" + i))
                .toList();
        stage.registerImport().apply(new Register(machines, List.of()), "policy-1", "a: 1");
    }

    @Test
    void finding_isTakenInOnce_andToldByBoth() throws Exception {
        // Also the one that gets nothing of a topic with a single partition.
        await().untilAsserted(() -> {
            assertThat(one.health().takesWork()).as("%s", one.health()).isTrue();
            assertThat(other.health().takesWork()).as("%s", other.health()).isTrue();
        });
        Queue<Change> toldByOne = new ConcurrentLinkedQueue<>();
        Queue<Change> toldByOther = new ConcurrentLinkedQueue<>();
        List<String> expected = new ArrayList<>();
        try (var hearing = one.changes().subscribe(toldByOne::add);
                var also = other.changes().subscribe(toldByOther::add)) {
            for (int i = 0; i < SITES; i++) {
                Finding finding = raised("ice-" + i, Condition.SLOW_FILL, NOON);
                engines.send(finding);
                expected.add(finding.id().toString());
            }
            engines.flush();

            await().untilAsserted(() -> {
                assertThat(ids(toldByOne)).containsAll(expected);
                assertThat(ids(toldByOther)).containsAll(expected);
            });
        }
        assertThat(steps("raised")).as("one raise in the audit for each").isEqualTo(SITES);

        // What is done at one is told by the other, and stands there.
        AlertView alert = one.views()
                .alert(raised("ice-1", Condition.SLOW_FILL, NOON).id())
                .orElseThrow();
        Queue<Change> told = new ConcurrentLinkedQueue<>();
        try (var hearing = other.changes().subscribe(told::add)) {
            assertThat(one.actions().act(alert.finding().id(), alert.version(), ADA, new Action.Acknowledge("")))
                    .isInstanceOf(Actions.Outcome.Done.class);
            await().untilAsserted(() ->
                    assertThat(ids(told)).contains(alert.finding().id().toString()));
        }
        assertThat(other.views().alert(alert.finding().id()).orElseThrow().state())
                .isEqualTo(AlertState.ACKNOWLEDGED);

        // The one that is left goes on with everything, at once.
        one.close();
        for (int i = 0; i < SITES; i++) {
            engines.send(raised("ice-" + i, Condition.DRAIN_PUMP_OVERRUN, NOON));
        }
        engines.flush();
        await().atMost(Duration.ofSeconds(8))
                .untilAsserted(() -> assertThat(steps("raised")).isEqualTo(2 * SITES));
    }

    @Test
    void turn_isOneInstancesAtATime_andFreeAgainAfterwards() {
        try (Database here = Database.open(engines.login(), 4);
                Database there = Database.open(engines.login(), 4)) {
            List<String> done = new ArrayList<>();
            new DatabaseTurn(here, "test").take(() -> {
                done.add("first");
                new DatabaseTurn(there, "test").take(() -> done.add("meanwhile"));
                new DatabaseTurn(there, "something else").take(() -> done.add("another turn"));
            });
            new DatabaseTurn(there, "test").take(() -> done.add("afterwards"));

            assertThat(done).containsExactly("first", "another turn", "afterwards");
        }
    }

    private int steps(String what) {
        return engines.jdbi()
                .withHandle(handle -> handle.createQuery("select count(*) from alert_audit where what = :what")
                        .bind("what", what)
                        .mapTo(Integer.class)
                        .one());
    }

    private static List<String> ids(Queue<Change> told) {
        return told.stream().map(Change::id).toList();
    }
}
