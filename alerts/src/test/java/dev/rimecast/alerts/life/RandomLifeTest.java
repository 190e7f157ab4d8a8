package dev.rimecast.alerts.life;

import static dev.rimecast.alerts.life.Findings.NOON;
import static dev.rimecast.alerts.view.AlertState.ACKNOWLEDGED;
import static dev.rimecast.alerts.view.AlertState.NORMAL;
import static dev.rimecast.alerts.view.AlertState.RETURNED_UNACKNOWLEDGED;
import static dev.rimecast.alerts.view.AlertState.UNACKNOWLEDGED;
import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.life.EpisodeRules.Acknowledgement;
import dev.rimecast.alerts.life.EpisodeRules.Verdict;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Random lives: findings in order, repeated, left out, late, and people in between. */
class RandomLifeTest {
    private static final int STEPS = 100_000;
    private static final List<Condition> CONDITIONS =
            List.of(Condition.SLOW_PULL_DOWN, Condition.DRAIN_PUMP_OVERRUN, Condition.MACHINE_SILENT);

    /** ISA-18.2 / IEC 62682 state transition diagram, from memory; to normal also when superseded. */
    private static final Map<AlertState, Set<AlertState>> LEGAL = new EnumMap<>(Map.of(
            NORMAL, Set.of(NORMAL, UNACKNOWLEDGED, RETURNED_UNACKNOWLEDGED),
            UNACKNOWLEDGED, Set.of(UNACKNOWLEDGED, ACKNOWLEDGED, RETURNED_UNACKNOWLEDGED, NORMAL),
            ACKNOWLEDGED, Set.of(ACKNOWLEDGED, UNACKNOWLEDGED, NORMAL),
            RETURNED_UNACKNOWLEDGED, Set.of(RETURNED_UNACKNOWLEDGED, UNACKNOWLEDGED, NORMAL)));

    private final Map<UUID, Episode> book = new HashMap<>();
    private final Map<String, Set<UUID>> open = new HashMap<>();
    private final Map<AlertState, Map<AlertState, Integer>> walked = new EnumMap<>(AlertState.class);

    @ParameterizedTest
    @ValueSource(longs = {1, 20261124, 987654321})
    void randomSequence_anySeed_walksLegalPathsWithOneOpenEpisode(long seed) {
        Random random = new Random(seed);
        List<Finding> told = new ArrayList<>();
        for (int step = 0; step < STEPS; step++) {
            if (random.nextInt(4) == 0 && !book.isEmpty()) {
                acknowledgeOne(random, told);
            } else {
                receive(draw(random, told, step));
            }
            assertOneOpen(seed, step);
        }
        assertOneOpen(seed, STEPS);
        assertEveryLegalPathWasWalked(seed);
    }

    private Finding draw(Random random, List<Finding> told, int step) {
        Stage stage = Stage.values()[random.nextInt(Stage.values().length)];
        Priority priority = Priority.values()[random.nextInt(Priority.values().length)];
        int kind = random.nextInt(10);
        if (told.isEmpty() || kind < 2) {
            String machine = "ice-000" + random.nextInt(5);
            Condition condition = CONDITIONS.get(random.nextInt(CONDITIONS.size()));
            // one in four comes late, with a raise before what is known
            long seconds = random.nextInt(4) == 0 ? random.nextInt(step + 1) : step;
            boolean startsInTheMiddle = random.nextInt(10) == 0;
            Finding finding = Findings.finding(
                    machine,
                    condition,
                    NOON.plusSeconds(seconds),
                    startsInTheMiddle ? 4 : 1,
                    startsInTheMiddle ? Step.values()[random.nextInt(3)] : Step.RAISED,
                    stage,
                    priority);
            told.add(finding);
            return finding;
        }
        // mostly a recent one, as a live log has it
        int back = random.nextInt(Math.min(told.size(), 30));
        Finding before = told.get(told.size() - 1 - back);
        if (kind < 4) {
            return before; // a repeat
        }
        Finding next = Findings.next(before, kind < 8 ? Step.UPDATED : Step.CLEARED, stage, priority);
        told.set(told.size() - 1 - back, next);
        return next;
    }

    private void receive(Finding finding) {
        Optional<Episode> known = Optional.ofNullable(book.get(finding.id()));
        String key = EpisodeRules.subjectOf(finding) + '|' + finding.condition().code();
        Optional<Episode> other = open.getOrDefault(key, Set.of()).stream()
                .filter(id -> !id.equals(finding.id()))
                .map(book::get)
                .findFirst();
        if (EpisodeRules.receive(known, other, finding) instanceof Verdict.Applied applied) {
            put(applied.next());
            applied.ended().ifPresent(this::put);
        } else {
            assertThat(finding.revision())
                    .isLessThanOrEqualTo(known.orElseThrow().revision());
        }
    }

    private void acknowledgeOne(Random random, List<Finding> told) {
        Finding finding = told.get(told.size() - 1 - random.nextInt(Math.min(told.size(), 30)));
        Episode episode = book.get(finding.id());
        if (episode == null) {
            return;
        }
        boolean allowed = Set.of(UNACKNOWLEDGED, RETURNED_UNACKNOWLEDGED)
                .contains(episode.life().state());
        Acknowledgement result = EpisodeRules.acknowledge(episode.life());
        assertThat(result instanceof Acknowledgement.Accepted).isEqualTo(allowed);
        if (result instanceof Acknowledgement.Accepted accepted) {
            put(episode.at(episode.revision(), accepted.life()));
        }
    }

    private void put(Episode after) {
        Episode before = book.put(after.id(), after);
        AlertState from = before == null ? NORMAL : before.life().state();
        AlertState to = after.life().state();
        assertThat(LEGAL.get(from)).as("%s to %s", from, to).contains(to);
        if (before != null) {
            assertThat(after.revision()).isGreaterThanOrEqualTo(before.revision());
            if (before.supersededBy().isPresent()) {
                assertThat(after.isOpen()).as("stays ended").isFalse();
            }
        }
        walked.computeIfAbsent(from, f -> new EnumMap<>(AlertState.class)).merge(to, 1, Integer::sum);
        if (after.isOpen()) {
            open.computeIfAbsent(keyOf(after), k -> new HashSet<>()).add(after.id());
        } else {
            open.computeIfAbsent(keyOf(after), k -> new HashSet<>()).remove(after.id());
        }
    }

    private static String keyOf(Episode episode) {
        return episode.subject() + '|' + episode.condition().code();
    }

    private void assertOneOpen(long seed, int step) {
        assertThat(open.values()).as("seed %s, step %s", seed, step).allMatch(ids -> ids.size() <= 1);
    }

    private void assertEveryLegalPathWasWalked(long seed) {
        LEGAL.forEach((from, targets) -> assertThat(
                        walked.getOrDefault(from, Map.of()).keySet())
                .as("seed %s, from %s", seed, from)
                .isEqualTo(targets));
    }
}
