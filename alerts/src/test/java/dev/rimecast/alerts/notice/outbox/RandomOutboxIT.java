package dev.rimecast.alerts.notice.outbox;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.notice.Books;
import dev.rimecast.alerts.notice.outbox.Checkpoint.Step;
import dev.rimecast.alerts.view.AlertFilter;
import java.time.Duration;
import java.time.Instant;
import java.util.Random;
import java.util.stream.LongStream;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Days as they come on a real database: alerts, people, ends of the process at any step and in the midst of sending, and
 * receivers that refuse for a while, are slow, and take what they then say that they have not. In the long set, or with
 * {@code -Doutbox.seeds} and {@code -Doutbox.steps}, as long as wanted.
 */
@TestInstance(Lifecycle.PER_CLASS)
class RandomOutboxIT {
    private static final boolean IS_LONG = "long".equals(System.getProperty("faults"));
    private static final int SEEDS = Integer.getInteger("outbox.seeds", IS_LONG ? 12 : 2);
    private static final int STEPS = Integer.getInteger("outbox.steps", IS_LONG ? 250 : 50);
    private static final Instant BEGIN = Instant.parse("2026-11-25T12:00:00Z");
    private static final long FIRST_SEED = 20261128;
    /** The last of twelve attempts may be ten days after the first. */
    private static final int ROUNDS_AFTERWARDS = 45;

    @AutoClose
    private OutboxBench bench;

    @BeforeAll
    void start() {
        bench = new OutboxBench(Books.desk());
    }

    static LongStream seeds() {
        return LongStream.range(FIRST_SEED, FIRST_SEED + SEEDS);
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void randomDays_loseAndContradictNothing(long seed) {
        bench.begin(BEGIN);
        bench.pass(Duration.ofMinutes(1));
        Random random = new Random(seed);
        MoodyReceivers receivers = new MoodyReceivers(bench, random);
        bench.inboxes().behave(receivers::answer);
        for (int i = 0; i < STEPS; i++) {
            bench.world().randomStep(random);
            if (random.nextInt(3) == 0) {
                bench.dieOnceAt(Step.values()[random.nextInt(Step.values().length)]);
            }
            bench.roundOrDie();
            bench.pass(Duration.ofMinutes(random.nextInt(400)));
        }
        bench.dieNoMore();
        receivers.recover();
        bench.world().endAll();
        for (int i = 0; i < ROUNDS_AFTERWARDS; i++) {
            bench.pass(Duration.ofHours(6));
            bench.round();
        }

        bench.wholeness().assertWhole(seed);
        bench.wholeness().assertHeard(seed, BEGIN, receivers, bench.deaths());
        assertThat(bench.wholeness().openEpisodesTwice()).isZero();
        assertThat(bench.views().alerts(AlertFilter.OPEN, 100)).isEmpty();
        assertThat(bench.inboxes().messages("desk")).isNotEmpty();
        System.out.println("seed " + seed + ": " + receivers + ", " + bench.deaths() + " ends at a step");
    }
}
