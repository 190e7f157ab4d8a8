package dev.rimecast.alerts.cases;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

import dev.rimecast.alerts.cases.CaseRules.Placement;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import java.time.Instant;
import java.util.ArrayList;
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

/** Random alerts of one site: raised, with other causes, over. The rules of placing alone, without a database. */
class RandomCasesTest {
    private static final int STEPS = 100_000;
    private static final Cause[] CAUSES = {
        Cause.WATER_SUPPLY_LOW, Cause.ROOM_TOO_HOT, Cause.POWER_OFF, Cause.SCALE, Cause.DRAIN_BLOCKED, Cause.LOW_CHARGE
    };

    private final CaseRules rules = new CaseRules(CaseBook.standard());
    private final Map<UUID, OpenCase> open = new HashMap<>();
    private final Map<UUID, Set<UUID>> members = new HashMap<>();
    private final Map<UUID, UUID> caseOf = new HashMap<>();
    private final Map<UUID, Integer> moves = new HashMap<>();
    private final Set<UUID> opened = new HashSet<>();

    @ParameterizedTest
    @ValueSource(longs = {1, 20261127, 987654321})
    void randomSequence_anySeed_losesNoAlertAndNoCase(long seed) {
        Random random = new Random(seed);
        List<Member> alive = new ArrayList<>();
        for (int step = 0; step < STEPS; step++) {
            Instant at = NOON.plusSeconds(600L * step);
            int kind = random.nextInt(3);
            if (alive.isEmpty() || (kind == 0 && alive.size() < 30)) {
                Member raised = member("ice-" + random.nextInt(8), random, at);
                if (caseOf.containsKey(raised.alert())) {
                    continue;
                }
                alive.add(raised);
                place(raised, seed, step);
            } else if (kind == 1) {
                int index = random.nextInt(alive.size());
                Member before = alive.get(index);
                Member changed = CaseRulesTest.member(
                        before.machine().orElseThrow(),
                        before.condition(),
                        before.raisedAt(),
                        CAUSES[random.nextInt(CAUSES.length)],
                        random.nextBoolean() ? 0.7 : 0.2);
                alive.set(index, changed);
                place(changed, seed, step);
            } else {
                end(alive.remove(random.nextInt(alive.size())));
            }
            check(alive, seed, step);
        }
        assertThat(moves.values())
                .as("seed %s: an alert moves once at most", seed)
                .allMatch(count -> count <= 1);
        assertThat(opened).as("seed %s: there were many cases", seed).hasSizeGreaterThan(1_000);
    }

    private static Member member(String machine, Random random, Instant at) {
        return CaseRulesTest.member(
                machine,
                Condition.values()[random.nextInt(8)],
                at,
                CAUSES[random.nextInt(CAUSES.length)],
                random.nextBoolean() ? 0.7 : 0.2);
    }

    private void place(Member alert, long seed, int step) {
        UUID before = caseOf.get(alert.alert());
        Optional<OpenCase> current = Optional.ofNullable(before).map(open::get);
        Placement placement = rules.place(alert, current, open.values());
        if (placement.opens() == open.containsKey(placement.id())) {
            fail("seed %s, step %s: %s opens what is open, or joins what is not", seed, step, placement);
        }
        if (placement.opens() && !opened.add(placement.id())) {
            fail("seed %s, step %s: the id of %s was given before", seed, step, placement);
        }
        if (before != null && !before.equals(placement.id())) {
            moves.merge(alert.alert(), 1, Integer::sum);
            leave(alert.alert(), before);
        }
        caseOf.put(alert.alert(), placement.id());
        members.computeIfAbsent(placement.id(), id -> new HashSet<>()).add(alert.alert());
        OpenCase known = open.get(placement.id());
        Set<String> machines = new HashSet<>(known == null ? Set.of() : known.machines());
        machines.addAll(alert.machine().stream().toList());
        Instant latest = known == null || known.latestRaise().isBefore(alert.raisedAt())
                ? alert.raisedAt()
                : known.latestRaise();
        open.put(placement.id(), new OpenCase(placement.id(), placement.key(), placement.cause(), latest, machines));
    }

    private void end(Member alert) {
        UUID id = caseOf.remove(alert.alert());
        if (id != null) {
            leave(alert.alert(), id);
        }
    }

    private void leave(UUID alert, UUID id) {
        Set<UUID> left = members.getOrDefault(id, Set.of());
        left.remove(alert);
        if (left.isEmpty()) {
            members.remove(id);
            open.remove(id);
        }
    }

    private void check(List<Member> alive, long seed, int step) {
        for (Member alert : alive) {
            UUID id = caseOf.get(alert.alert());
            if (id == null || !open.containsKey(id)) {
                fail("seed %s, step %s: %s is in no open case", seed, step, alert);
            }
        }
        if (!open.keySet().equals(members.keySet())) {
            fail("seed %s, step %s: open cases without alerts", seed, step);
        }
    }
}
