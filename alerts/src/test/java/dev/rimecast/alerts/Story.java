package dev.rimecast.alerts;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.telemetry.cycle.Acceptance;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.SiteRecord.Pack;
import dev.rimecast.telemetry.log.SiteRecord.Presence;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Random;

/** A random but repeatable story of a few machines: packs with repeats and late ones, cycles, findings. */
final class Story {
    private static final Instant START = Findings.NOON;
    private static final List<Condition> CONDITIONS =
            List.of(Condition.SLOW_PULL_DOWN, Condition.DRAIN_PUMP_OVERRUN, Condition.LONG_FREEZE);

    private final Random random;
    private final List<Pack> packs = new ArrayList<>();
    private final List<Finding> findings = new ArrayList<>();
    private final Map<Integer, Integer> cycles = new HashMap<>();
    private int told;

    Story(long seed) {
        this.random = new Random(seed);
    }

    /** Tells the next part to Kafka. */
    void tell(Engines engines, int minutes) {
        for (int end = told + minutes; told < end; told++) {
            int minute = told;
            Instant at = START.plus(Duration.ofMinutes(minute));
            for (int machine = 0; machine < 4; machine++) {
                String site = "site-" + machine / 2;
                Pack pack = nextPack(machine, at);
                packs.add(pack);
                engines.send(site, pack);
            }
            if (random.nextInt(20) == 0) {
                Pack again = packs.get(random.nextInt(packs.size()));
                engines.send(again.gateway().equals("gateway-0") ? "site-0" : "site-1", again);
            }
            if (minute % 25 == 24) {
                int machine = random.nextInt(4);
                Acceptance soFar = acceptance(cycles.merge(machine, 1, Integer::sum), START);
                engines.send(
                        "site-" + machine / 2,
                        cycle("ice-" + machine, at.minus(Duration.ofMinutes(24)), at, Optional.of(soFar)));
            }
            if (random.nextInt(4) == 0) {
                engines.send(nextFinding(at));
            }
            if (random.nextInt(60) == 0) {
                // some come late, too
                Instant seen = at.minus(Duration.ofMinutes(random.nextInt(90)));
                engines.send("site-0", new Presence(seen, "gateway-0", random.nextBoolean()));
            }
        }
    }

    private Pack nextPack(int machine, Instant at) {
        String id = "ice-" + machine;
        // one in thirty comes an hour late
        long millis =
                at.minus(Duration.ofMinutes(random.nextInt(30) == 0 ? 60 : 0)).toEpochMilli() + random.nextInt(1000);
        List<Reading> readings = List.of(
                Reading.number(id, Channel.EVAPORATOR_TEMPERATURE, millis, -15 + random.nextInt(300) / 10.0),
                Reading.number(id, Channel.CONDENSER_TEMPERATURE, millis, 30 + random.nextInt(200) / 10.0),
                Reading.number(id, Channel.AMBIENT_TEMPERATURE, millis, 22 + random.nextInt(30) / 10.0),
                Reading.phase(id, millis, Phase.values()[random.nextInt(4)]));
        return new Pack("gateway-" + machine / 2, Optional.empty(), at.plusSeconds(1), readings, 0);
    }

    private Finding nextFinding(Instant at) {
        Stage stage = Stage.values()[random.nextInt(3)];
        Priority priority = Priority.values()[random.nextInt(4)];
        if (findings.isEmpty() || random.nextInt(3) == 0) {
            Finding raised = Findings.finding(
                    "ice-" + random.nextInt(4), CONDITIONS.get(random.nextInt(3)), at, 1, Step.RAISED, stage, priority);
            findings.add(raised);
            return raised;
        }
        int index = random.nextInt(findings.size());
        Finding before = findings.get(index);
        if (random.nextInt(5) == 0) {
            return before; // a repeat
        }
        Finding next = Findings.next(before, random.nextInt(3) == 0 ? Step.CLEARED : Step.UPDATED, stage, priority);
        findings.set(index, next);
        return next;
    }

    /** What so many first cycles have shown. */
    static Acceptance acceptance(int cycles, Instant began) {
        return new Acceptance(
                Acceptance.Reason.FIRST_SEEN,
                began,
                cycles,
                Acceptance.Verdict.ACCEPTED,
                Acceptance.Probes.TOLD_APART,
                OptionalDouble.of(24),
                OptionalDouble.empty(),
                List.of(new Acceptance.Shown(Feature.FREEZE, 1250, 1230, 1100, 1400, 8, Acceptance.Verdict.ACCEPTED)),
                Optional.empty(),
                List.of(),
                false,
                "Accepted.");
    }

    static Cycle cycle(String machine, Instant start, Instant end) {
        return cycle(machine, start, end, Optional.empty());
    }

    static Cycle cycle(String machine, Instant start, Instant end, Optional<Acceptance> acceptance) {
        return new Cycle(
                machine,
                start,
                end,
                OptionalDouble.of(171.5),
                OptionalDouble.of(1210),
                OptionalDouble.of(205),
                OptionalDouble.of(41.2),
                OptionalDouble.of(38.4),
                OptionalDouble.of(14.4),
                OptionalDouble.of(-17.2),
                OptionalDouble.of(24.1),
                "sensor",
                OptionalDouble.empty(),
                "",
                OptionalInt.of(1),
                OptionalDouble.empty(),
                OptionalDouble.of(2.4),
                true,
                List.of(),
                "detector-1",
                "policy-1",
                acceptance);
    }
}
