package dev.rimecast.alerts;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/** A random but repeatable month of eight machines on four sites: findings that come, change and end, in event time. */
final class FleetMonth {
    static final Instant START = Instant.parse("2026-05-04T00:00:00Z");
    private static final int DAYS = 30;
    private static final int MACHINES = 8;
    private static final List<Condition> CONDITIONS = List.of(
            Condition.SLOW_PULL_DOWN,
            Condition.LONG_FREEZE,
            Condition.RISING_CONDENSING_TEMPERATURE,
            Condition.DRAIN_PUMP_OVERRUN,
            Condition.MACHINE_SILENT,
            Condition.CLEANING_DUE);
    private static final List<Cause> CAUSES =
            List.of(Cause.SCALE, Cause.AIRFLOW_RESTRICTED, Cause.FAN_FAILED, Cause.LOW_CHARGE);

    private final Random random;
    private final List<Finding> findings = new ArrayList<>();

    FleetMonth(long seed) {
        this.random = new Random(seed);
        Map<String, Finding> open = new HashMap<>();
        for (int hour = 0; hour < DAYS * 24; hour++) {
            for (int machine = 0; machine < MACHINES; machine++) {
                Instant at = START.plus(Duration.ofSeconds(hour * 3600L + random.nextInt(3600)));
                step(open, machine, CONDITIONS.get(random.nextInt(CONDITIONS.size())), at);
            }
        }
        findings.sort(Comparator.comparing(Finding::at).thenComparing(Finding::id));
    }

    private void step(Map<String, Finding> open, int machine, Condition condition, Instant at) {
        String key = machine + condition.code();
        Finding before = open.get(key);
        if (before == null && random.nextInt(150) == 0) {
            open.put(key, add(machine, condition, at, at, 1, Step.RAISED));
        } else if (before != null && random.nextInt(8) == 0) {
            Step step = random.nextInt(3) == 0 ? Step.CLEARED : Step.UPDATED;
            Finding next = add(machine, condition, before.raisedAt(), at, before.revision() + 1, step);
            if (step == Step.CLEARED) {
                open.remove(key);
            } else {
                open.put(key, next);
            }
        }
    }

    private Finding add(int machine, Condition condition, Instant raisedAt, Instant at, int revision, Step step) {
        String id = "ice-" + machine;
        Instant early = at.plus(Duration.ofHours(30 + random.nextInt(500)));
        Optional<LimitExpected> limit = random.nextBoolean()
                ? Optional.of(new LimitExpected(early.plus(Duration.ofDays(2)), early, early.plus(Duration.ofDays(9))))
                : Optional.empty();
        List<ProbableCause> causes = condition.isCare() || condition == Condition.MACHINE_SILENT
                ? List.of()
                : List.of(new ProbableCause(CAUSES.get(random.nextInt(CAUSES.size())), 0.7, List.of(), List.of()));
        Finding finding = new Finding(
                Finding.idOf(id, condition, raisedAt),
                revision,
                step,
                site(machine),
                Optional.of(id),
                Optional.empty(),
                condition,
                Stage.values()[random.nextInt(2)],
                Priority.values()[1 + random.nextInt(3)],
                at,
                raisedAt,
                causes,
                Optional.empty(),
                limit,
                "Seen " + revision + " times.",
                "detector-1",
                "policy-1");
        findings.add(finding);
        return finding;
    }

    private static String site(int machine) {
        return "site-" + machine % 4;
    }

    Register register() {
        return new Register(
                IntStream.range(0, MACHINES)
                        .mapToObj(i -> Machine.basic("ice-" + i, site(i), "gateway-" + i % 4))
                        .toList(),
                IntStream.range(0, 4).mapToObj(i -> Site.basic("site-" + i)).toList());
    }

    /** In the order of their event times. */
    List<Finding> findings() {
        return findings;
    }

    /** When somebody sits down to plan; the last time at the month's end. */
    List<Instant> decisions() {
        return Stream.of(6, 11, 16, 21, 26, 30)
                .map(day -> START.plus(Duration.ofHours(24L * day - 10)))
                .toList();
    }
}
