package dev.rimecast.alerts.life;

import static dev.rimecast.alerts.life.Findings.NOON;
import static dev.rimecast.alerts.view.AlertState.ACKNOWLEDGED;
import static dev.rimecast.alerts.view.AlertState.LATCHED_ACKNOWLEDGED;
import static dev.rimecast.alerts.view.AlertState.LATCHED_UNACKNOWLEDGED;
import static dev.rimecast.alerts.view.AlertState.NORMAL;
import static dev.rimecast.alerts.view.AlertState.OUT_OF_SERVICE;
import static dev.rimecast.alerts.view.AlertState.RETURNED_UNACKNOWLEDGED;
import static dev.rimecast.alerts.view.AlertState.SHELVED;
import static dev.rimecast.alerts.view.AlertState.SUPPRESSED_BY_DESIGN;
import static dev.rimecast.alerts.view.AlertState.UNACKNOWLEDGED;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

import dev.rimecast.alerts.life.EpisodeRules.Change;
import dev.rimecast.alerts.life.EpisodeRules.Verdict;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
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

    private static final Set<AlertState> HOLDS = EnumSet.of(SHELVED, SUPPRESSED_BY_DESIGN, OUT_OF_SERVICE);
    private static final Set<Condition> LATCHING = Set.of(Condition.DRAIN_PUMP_OVERRUN, Condition.MACHINE_SILENT);

    /**
     * ISA-18.2 / IEC 62682 state transition diagram, from memory; to normal also when superseded, and into a hold from
     * every state in one step, where a raise and its hold are one.
     */
    private static final Map<AlertState, Set<AlertState>> LEGAL = new EnumMap<>(Map.of(
            NORMAL, with(HOLDS, UNACKNOWLEDGED, RETURNED_UNACKNOWLEDGED, LATCHED_UNACKNOWLEDGED),
            UNACKNOWLEDGED, with(HOLDS, ACKNOWLEDGED, RETURNED_UNACKNOWLEDGED, LATCHED_UNACKNOWLEDGED, NORMAL),
            ACKNOWLEDGED, with(HOLDS, UNACKNOWLEDGED, LATCHED_ACKNOWLEDGED, NORMAL),
            RETURNED_UNACKNOWLEDGED, with(HOLDS, UNACKNOWLEDGED, NORMAL),
            LATCHED_UNACKNOWLEDGED, with(HOLDS, UNACKNOWLEDGED, LATCHED_ACKNOWLEDGED, RETURNED_UNACKNOWLEDGED, NORMAL),
            LATCHED_ACKNOWLEDGED, with(HOLDS, UNACKNOWLEDGED, NORMAL),
            SHELVED, Set.of(UNACKNOWLEDGED, SUPPRESSED_BY_DESIGN, OUT_OF_SERVICE, NORMAL),
            SUPPRESSED_BY_DESIGN, Set.of(UNACKNOWLEDGED, ACKNOWLEDGED, SHELVED, OUT_OF_SERVICE, NORMAL),
            OUT_OF_SERVICE, Set.of(UNACKNOWLEDGED, SHELVED, SUPPRESSED_BY_DESIGN, NORMAL)));

    private static Set<AlertState> with(Set<AlertState> holds, AlertState... more) {
        Set<AlertState> all = EnumSet.copyOf(holds);
        all.addAll(List.of(more));
        return all;
    }

    private final Map<String, EnumSet<Hold.Kind>> holds = new HashMap<>();
    private final Map<UUID, Episode> book = new HashMap<>();
    private final Map<String, Set<UUID>> open = new HashMap<>();
    private final Map<AlertState, Map<AlertState, Integer>> walked = new EnumMap<>(AlertState.class);

    @ParameterizedTest
    @ValueSource(longs = {1, 20261124, 987654321})
    void randomSequence_anySeed_walksLegalPathsWithOneOpenEpisode(long seed) {
        Random random = new Random(seed);
        List<Finding> told = new ArrayList<>();
        for (int step = 0; step < STEPS; step++) {
            int who = random.nextInt(16);
            if (who < 5 && !book.isEmpty()) {
                personActs(random, told, who);
            } else if (who < 8) {
                holdBeginsOrEnds(random);
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
        if (EpisodeRules.receive(
                        known,
                        other,
                        finding,
                        new Severity(finding.stage(), finding.priority()),
                        standing(finding.condition(), key))
                instanceof Verdict.Applied applied) {
            put(applied.next());
            applied.ended().ifPresent(this::put);
        } else {
            assertThat(finding.revision())
                    .isLessThanOrEqualTo(known.orElseThrow().revision());
        }
    }

    private Standing standing(Condition condition, String key) {
        return new Standing(
                LATCHING.contains(condition),
                holds.getOrDefault(key, EnumSet.noneOf(Hold.Kind.class)).stream()
                        .findFirst());
    }

    /** A shelf, a circumstance or a service begins or ends, for what is open and for what comes. */
    private void holdBeginsOrEnds(Random random) {
        Condition condition = CONDITIONS.get(random.nextInt(CONDITIONS.size()));
        String key = "ice-000" + random.nextInt(5) + '|' + condition.code();
        Hold.Kind kind = Hold.Kind.values()[random.nextInt(3)];
        EnumSet<Hold.Kind> now = holds.computeIfAbsent(key, k -> EnumSet.noneOf(Hold.Kind.class));
        // ends more often than it begins, so that most of the time nothing is held
        if (!now.remove(kind) && random.nextInt(2) == 0) {
            now.add(kind);
        }
        for (UUID id : Set.copyOf(open.getOrDefault(key, Set.of()))) {
            Episode episode = episodeOf(id);
            AlertLife after = standing(condition, key).settle(episode.life());
            assertThat(standing(condition, key).settle(after))
                    .as("settled twice")
                    .isEqualTo(after);
            put(episode.at(episode.revision(), after));
        }
    }

    private Episode episodeOf(UUID id) {
        Episode episode = book.get(id);
        assertThat(episode).isNotNull();
        return java.util.Objects.requireNonNull(episode);
    }

    private void personActs(Random random, List<Finding> told, int who) {
        Finding finding = told.get(told.size() - 1 - random.nextInt(Math.min(told.size(), 30)));
        Episode episode = book.get(finding.id());
        if (episode == null) {
            return;
        }
        AlertState state = episode.life().state();
        boolean isReset = who == 0;
        Change result = isReset ? EpisodeRules.reset(episode.life()) : EpisodeRules.acknowledge(episode.life());
        boolean allowed =
                isReset ? Set.of(LATCHED_UNACKNOWLEDGED, LATCHED_ACKNOWLEDGED).contains(state) : state.needsEyes();
        assertThat(result instanceof Change.Allowed).isEqualTo(allowed);
        if (result instanceof Change.Allowed done) {
            put(episode.at(episode.revision(), done.life()));
        }
    }

    private void put(Episode after) {
        Episode before = book.put(after.id(), after);
        AlertState from = before == null ? NORMAL : before.life().state();
        AlertState to = after.life().state();
        if (from != to) {
            assertThat(LEGAL.get(from)).as("%s to %s", from, to).contains(to);
        }
        if (before != null) {
            assertThat(after.revision()).isGreaterThanOrEqualTo(before.revision());
            if (before.supersededBy().isPresent()) {
                assertThat(after.isOpen()).as("stays ended").isFalse();
            }
        }
        if (from == to) {
            return;
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
        for (Set<UUID> ids : open.values()) {
            if (ids.size() > 1) {
                fail("seed %s, step %s: open at once %s", seed, step, ids);
            }
        }
    }

    private void assertEveryLegalPathWasWalked(long seed) {
        LEGAL.forEach((from, targets) -> assertThat(
                        walked.getOrDefault(from, Map.of()).keySet())
                .as("seed %s, from %s", seed, from)
                .isEqualTo(targets));
    }
}
