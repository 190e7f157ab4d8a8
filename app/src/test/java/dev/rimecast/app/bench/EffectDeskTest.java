package dev.rimecast.app.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.dashboard.bench.Effect;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CountDownLatch;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Of a log of an hour, of three sites on which nothing is said. */
class EffectDeskTest {
    private static final Instant START = Instant.parse("2026-03-01T00:00:00Z");
    private static final String RATE = "change.false_alarms_per_machine_year";

    @TempDir
    Path root;

    private void write() {
        HourOfLog.write(root, START, List.of("harbour", "lantern", "quay"));
    }

    /** Nothing is decided before this is let go. */
    private final CountDownLatch held = new CountDownLatch(1);

    private EffectDesk desk() {
        return new EffectDesk(root.resolve("history"), root.resolve("effect"), () -> {
            try {
                held.await();
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
            return List.of();
        });
    }

    private Effect ended(EffectDesk desk, Effect asked) {
        held.countDown();
        await().until(() -> !List.of("preparing", "running").contains(state(desk, asked)));
        return desk.effect(asked.id()).orElseThrow();
    }

    private static String state(EffectDesk desk, Effect asked) {
        return desk.effect(asked.id()).map(Effect::state).orElseThrow();
    }

    @Test
    void numberOfCycles_isOfAllSitesInTheEnd_limitsAreCounted_andOthersNamed() throws IOException {
        write();
        Files.createDirectories(root.resolve("effect/ready-of-an-earlier-process"));
        try (EffectDesk desk = desk()) {
            Effect asked = desk.ask(
                    Policy.standard(),
                    Map.of(RATE, 0.5, "limits.condensing_celsius", 55.0, "delays.stopped_minutes", 10.0),
                    "Ana");

            Effect effect = ended(desk, asked);

            assertThat(effect.state()).isEqualTo("done");
            assertThat(effect.counted()).containsExactly(RATE);
            assertThat(effect.limits()).containsExactly(new Effect.Limit("limits.condensing_celsius", 0, 0, 0, 0));
            assertThat(effect.needReadings()).containsExactly("delays.stopped_minutes");
            assertThat(effect.seen().map(Effect.Seen::sites)).contains(3);
            assertThat(effect.seen().map(Effect.Seen::allMachines)).contains(3);
            assertThat(effect.seen().flatMap(Effect.Seen::fleet)).contains(new Effect.Fleet(0, 0, 0));
            try (Stream<Path> kept = Files.list(root.resolve("effect"))) {
                assertThat(kept).hasSize(1);
            }
        }
    }

    @Test
    void newestMoveOfAPerson_endsTheOneBefore_andNoOtherPersons() {
        write();
        try (EffectDesk desk = desk()) {
            Effect ofBen = desk.ask(Policy.standard(), Map.of(RATE, 0.3), "Ben");
            Effect first = desk.ask(Policy.standard(), Map.of(RATE, 0.5), "Ana");
            Effect second = desk.ask(Policy.standard(), Map.of(RATE, 0.7), "Ana");

            assertThat(desk.effect(first.id())).as("gone").isEmpty();
            assertThat(ended(desk, second).state()).isEqualTo("done");
            assertThat(ended(desk, ofBen).state()).isEqualTo("done");
            Effect third = desk.ask(Policy.standard(), Map.of(), "Ana");
            assertThat(ended(desk, third).seen()).as("only made ready").isEmpty();
            assertThat(desk.effect(second.id())).as("gone").isEmpty();
            assertThat(state(desk, ofBen)).as("an answer stays one").isEqualTo("done");
        }
    }

    @Test
    void onePersonsManyMoves_endNoOtherPersons() {
        write();
        try (EffectDesk desk = desk()) {
            Effect ofBen = desk.ask(Policy.standard(), Map.of(RATE, 0.3), "Ben");
            for (int move = 0; move < 40; move++) {
                desk.ask(Policy.standard(), Map.of(RATE, 0.5), "Ana");
            }

            assertThat(ended(desk, ofBen).state()).isEqualTo("done");
        }
    }

    @Test
    void otherNumbersInForce_areMadeReadyAnew() {
        write();
        try (EffectDesk desk = desk()) {
            desk.ask(Policy.standard(), Map.of(RATE, 0.5), "Ana");
            Policy next = Policy.parse("version: next\nall: {limits: {condensing_celsius: 60}}\n");
            Effect after = desk.ask(next, Map.of(RATE, 0.5), "Ben");

            assertThat(ended(desk, after).state()).isEqualTo("done");
            assertThat(ended(desk, desk.ask(Policy.standard(), Map.of(RATE, 0.5), "Ana"))
                            .state())
                    .as("and back again")
                    .isEqualTo("done");
        }
    }

    @Test
    void historyThatIsNotThere_saysSo_andIsAskedAnew() {
        try (EffectDesk desk = desk()) {
            Effect failed = ended(desk, desk.ask(Policy.standard(), Map.of(RATE, 0.5), "Ana"));
            assertThat(failed.state()).isEqualTo("failed");
            assertThat(failed.problem().orElseThrow()).contains("there is no history in");

            write();
            assertThat(ended(desk, desk.ask(Policy.standard(), Map.of(RATE, 0.5), "Ana"))
                            .state())
                    .isEqualTo("done");
        }
    }
}
