package dev.rimecast.alerts.visits;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import org.junit.jupiter.api.Test;

class VisitPassTest {
    private static final Instant NOW = Instant.parse("2026-05-04T12:10:00Z");

    private int alerts;
    private int visits;
    private int planned;
    private boolean isBusy;
    private long nanos;

    private final VisitPass pass = new VisitPass(
            () -> {
                planned++;
                visits++;
                alerts += isBusy ? 1 : 0;
            },
            () -> alerts + "|" + visits,
            () -> nanos);

    private void looks(int times) {
        for (int i = 0; i < times; i++) {
            nanos += 6_000_000_000L;
            pass.run(NOW);
        }
    }

    @Test
    void nothingChanges_isPlannedOnce_whateverPlanningChangesItself() {
        looks(5);
        assertThat(planned).isEqualTo(1);
    }

    @Test
    void alertThatComesWhileItIsPlanned_isPlannedAgain() {
        isBusy = true;
        looks(1);
        isBusy = false;
        looks(5);
        assertThat(planned).isEqualTo(2);
    }

    @Test
    void changesCloseTogether_waitForFiveSecondsOfTheWall() {
        looks(1);
        alerts++;
        nanos += 1_000_000_000L;
        pass.run(NOW);
        assertThat(planned).isEqualTo(1);
        looks(1);
        assertThat(planned).isEqualTo(2);
    }
}
