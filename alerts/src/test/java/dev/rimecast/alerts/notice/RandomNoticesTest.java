package dev.rimecast.alerts.notice;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.notice.Delivery.State;
import dev.rimecast.telemetry.finding.Priority;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Random lives of cases, random receivers, a process that ends anywhere: nothing is lost, nothing is contradicted. The
 * outbox is {@link ModelOutbox}; the same rules over a real database are in {@code OutboxIT}.
 */
class RandomNoticesTest {
    private static final int STEPS = 100_000;
    private static final int MOST_LIVE = 8;

    private final ModelOutbox outbox = new ModelOutbox(Books.desk());

    @ParameterizedTest
    @ValueSource(longs = {1, 20261128, 987654321})
    void randomCases_anySeed_loseAndContradictNothing(long seed) {
        Random random = new Random(seed);
        for (int step = 0; step < STEPS; step++) {
            try {
                step(random);
            } catch (AssertionError e) {
                throw new AssertionError("seed " + seed + ", step " + step + ": " + e.getMessage(), e);
            }
        }
        outbox.closeAll();
        outbox.drain();
        outbox.assertNothingIsLost();
        assertThat(outbox.counts())
                .as("what happened at all, seed %s", seed)
                .allSatisfy((what, n) -> assertThat(n).as(what).isPositive());
    }

    private void step(Random random) {
        switch (random.nextInt(12)) {
            case 0 -> {
                if (outbox.live() < MOST_LIVE) {
                    outbox.begin("site-" + random.nextInt(3), situation(random));
                }
            }
            case 1, 2 -> outbox.change(random, now -> situation(random));
            case 3 -> {
                if (random.nextInt(3) == 0) {
                    outbox.change(random, RandomNoticesTest::over);
                }
            }
            case 4 -> outbox.pass(Duration.ofMinutes(1 + random.nextInt(600)));
            case 5, 6, 7 -> outbox.look(random, random.nextInt(10) == 0);
            default -> outbox.send(random);
        }
    }

    private Situation situation(Random random) {
        Priority priority = Priority.values()[random.nextInt(4)];
        Instant now = outbox.now();
        Optional<Instant> actBy = random.nextInt(4) == 0
                ? Optional.empty()
                : Optional.of(now.plus(Duration.ofHours(random.nextInt(40 * 24))));
        boolean counts = random.nextInt(6) > 0;
        boolean unseen = counts && random.nextInt(3) > 0;
        return new Situation(
                false,
                true,
                counts,
                unseen,
                unseen ? Optional.of(now) : Optional.empty(),
                unseen && random.nextBoolean(),
                priority,
                actBy,
                counts && random.nextInt(5) == 0,
                Trouble.values()[random.nextInt(3)]);
    }

    private static Situation over(Situation before) {
        return new Situation(
                true,
                true,
                false,
                false,
                Optional.empty(),
                false,
                before.priority(),
                Optional.empty(),
                false,
                before.trouble());
    }

    /** The states of a notice only ever go forward. */
    static boolean isLegal(State from, State to) {
        return switch (from) {
            case WAITING -> true;
            case SENDING -> to != State.CANCELLED;
            case SENT, FAILED, CANCELLED -> from == to;
        };
    }
}
