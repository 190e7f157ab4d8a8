package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;

import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.stream.Stream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;

/** The stage on a real broker and a real database, once for a class of tests. */
@TestInstance(Lifecycle.PER_CLASS)
abstract class StageBench {
    /** What the stage's clock says; it stands until a test sets it. */
    volatile Instant now;

    Engines engines;
    AlertsStage stage;

    StageBench(Instant now) {
        this.now = now;
    }

    /** Ten minutes after the noon at which most findings of the tests are raised. */
    StageBench() {
        this(NOON.plusSeconds(600));
    }

    @BeforeAll
    final void startEngines() {
        Awaitility.setDefaultTimeout(Duration.ofSeconds(60));
        engines = new Engines();
        stage = engines.startStage(() -> now);
    }

    @AfterAll
    final void stopEngines() {
        stage.close();
        engines.close();
    }

    final void know(Register register) {
        stage.registerImport().apply(register, "policy-1", "a: 1");
    }

    /** Machines on one site. */
    static Register register(String... machines) {
        return new Register(
                Stream.of(machines)
                        .map(id -> Machine.basic(id, "site-a", "gateway-a"))
                        .toList(),
                List.of());
    }
}
