package dev.rimecast.analytics.otherfleet;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;

/** Deals faults out to machines, one each, all kinds in turn in an order of the seed's own; what does not fit a machine waits for the next. */
final class FaultRotation {
    private static final double DAY_SECONDS = 86_400;
    private static final double SHORTEST_GROWTH_DAYS = 7;
    private static final double LONGEST_GROWTH_DAYS = 200;
    private static final double STEP_CHANCE_OF_EITHER = 0.35;

    private final OtherFleetPlan plan;
    private final SplittableRandom random;
    private final Deque<FaultKind> waiting;
    private double soundOwed = 0.5;

    FaultRotation(OtherFleetPlan plan, SplittableRandom random) {
        this.plan = plan;
        this.random = random;
        List<FaultKind> kinds = new ArrayList<>(List.of(FaultKind.values()));
        for (int i = kinds.size(); i > 1; i--) {
            Collections.swap(kinds, i - 1, random.nextInt(i));
        }
        waiting = new ArrayDeque<>(kinds);
    }

    /** What the next machine gets; nothing for a sound one. */
    Optional<Fault> deal(boolean hasDrainPump, boolean alone) {
        soundOwed += plan.soundShare();
        if (soundOwed >= 1) {
            soundOwed -= 1;
            return Optional.empty();
        }
        Optional<FaultKind> kind = waiting.stream()
                .filter(k -> hasDrainPump || !k.needsDrainPump())
                .filter(k -> alone || !k.needsOwnSite())
                .findFirst();
        kind.ifPresent(k -> {
            waiting.remove(k);
            waiting.addLast(k);
        });
        return kind.map(this::develop);
    }

    private Fault develop(FaultKind kind) {
        double end = plan.days() * DAY_SECONDS;
        double onset = (0.2 + 0.25 * random.nextDouble()) * end;
        boolean step = switch (kind.growth()) {
            case STEP -> true;
            case SLOW -> false;
            case EITHER -> random.nextDouble() < STEP_CHANCE_OF_EITHER;
        };
        double spread = Math.log(LONGEST_GROWTH_DAYS / SHORTEST_GROWTH_DAYS);
        double growth = SHORTEST_GROWTH_DAYS * Math.exp(spread * random.nextDouble()) * DAY_SECONDS;
        double room = (end - onset - 2 * DAY_SECONDS) / 0.8;
        return new Fault(kind, Math.floor(onset), step ? 0 : Math.min(growth, room), random.nextDouble());
    }
}
