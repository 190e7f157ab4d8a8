package dev.rimecast.analytics.fourthfleet;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Deals faults, one a machine, from a shuffled deck in which common ones lie more often; only where they can occur. */
final class FaultDeck {
    private static final double SLOW_SHARE = .56;

    private final Onsets onsets;
    private final Chance chance;
    private final List<FaultKind> deck = new ArrayList<>();
    private final Set<Room> hotRooms = new HashSet<>();

    FaultDeck(FourthFleetPlan plan, Chance chance) {
        this.chance = chance;
        this.onsets = new Onsets(plan, chance.split());
    }

    void deal(List<MachineDraft> machines, double soundShare) {
        List<MachineDraft> order = new ArrayList<>(machines);
        chance.shuffle(order);
        long left = Math.round(machines.size() * (1 - soundShare));
        for (MachineDraft machine : order) {
            if (left <= 0) {
                return;
            }
            if (machine.isSound() && !hotRooms.contains(room(machine))) {
                left -= deal(machine);
            }
        }
    }

    /** Gives how many machines have a fault now that had none. */
    private long deal(MachineDraft machine) {
        FaultKind kind = draw(machine);
        machine.fault = onsets.begin(machine, kind);
        if (kind != FaultKind.ROOM_TOO_HOT) {
            return 1;
        }
        Room room = room(machine);
        hotRooms.add(room);
        long dealt = 1;
        for (MachineDraft other : machine.site.machines) {
            if (!other.equals(machine) && room.equals(room(other))) {
                other.fault = machine.fault;
                dealt++;
            }
        }
        return dealt;
    }

    private FaultKind draw(MachineDraft machine) {
        boolean slow = chance.hit(SLOW_SHARE);
        return take(machine, Optional.of(slow)).orElseGet(() -> {
            refill();
            return take(machine, Optional.of(slow))
                    .or(() -> take(machine, Optional.empty()))
                    .orElseThrow();
        });
    }

    private Optional<FaultKind> take(MachineDraft machine, Optional<Boolean> slow) {
        for (int i = 0; i < deck.size(); i++) {
            FaultKind kind = deck.get(i);
            if (slow.orElse(kind.isSlow()) == kind.isSlow() && fits(kind, machine)) {
                deck.remove(i);
                return Optional.of(kind);
            }
        }
        return Optional.empty();
    }

    private void refill() {
        List<FaultKind> more = new ArrayList<>();
        for (FaultKind kind : FaultKind.values()) {
            for (int i = 0; i < kind.weight; i++) {
                more.add(kind);
            }
        }
        chance.shuffle(more);
        deck.addAll(more);
    }

    /** A room is too hot for all in it, so none of them may have something else. */
    private static boolean fits(FaultKind kind, MachineDraft machine) {
        if (!kind.fits(machine.traits.group, machine.site.offAtNight)) {
            return false;
        }
        return kind != FaultKind.ROOM_TOO_HOT
                || machine.site.machines.stream()
                        .filter(other -> room(other).equals(room(machine)))
                        .allMatch(MachineDraft::isSound);
    }

    private static Room room(MachineDraft machine) {
        return machine.site.rooms.get(machine.room);
    }

    /** When a fault begins, how it grows, and what people did just before. */
    private static final class Onsets {
        private static final long DAY_SECONDS = 86_400;
        private static final double SHORTEST_DAYS = 7;
        private static final double LONGEST_DAYS = 200;
        private static final long BESIDE_CLEANING_SECONDS = 15 * DAY_SECONDS;

        private final FourthFleetPlan plan;
        private final Chance chance;

        Onsets(FourthFleetPlan plan, Chance chance) {
            this.plan = plan;
            this.chance = chance;
        }

        Fault begin(MachineDraft machine, FaultKind kind) {
            FaultKind.Size range = kind.size;
            double size = chance.hit(.55)
                    ? chance.between(range.severeFrom(), range.severeTo())
                    : chance.between(range.mildFrom(), range.mildTo());
            int mode = chance.below(4);
            if (kind.isSlow() && !chance.hit(kind.stepShare())) {
                return slow(kind, size, mode);
            }
            double day = Math.min(chance.between(.15, .9) * plan.days(), plan.days() - 4.0);
            long onset = plan.start() + (long) (day * DAY_SECONDS);
            return Fault.step(kind, size, after(machine, kind, onset), mode);
        }

        private Fault slow(FaultKind kind, double size, int mode) {
            int days = plan.days();
            double day = Math.max(10, chance.between(.12, .30) * days);
            double longest = Math.max(8, Math.min(LONGEST_DAYS, (days - day - 3) / .82));
            double growth = Math.exp(chance.between(Math.log(SHORTEST_DAYS), Math.log(longest)));
            if (chance.hit(.25)) {
                growth = chance.between(.6 * longest, longest);
            }
            Fault.Shape shape = chance.hit(.5)
                    ? Fault.Shape.LINEAR
                    : chance.hit(.6) ? Fault.Shape.ACCELERATING : Fault.Shape.STEPWISE;
            List<Double> jumps = new ArrayList<>();
            for (int i = 0; i < 5 && shape == Fault.Shape.STEPWISE; i++) {
                jumps.add((i + chance.between(.1, .9)) / 5);
            }
            jumps.sort(Comparator.naturalOrder());
            if (day + growth < days * .8) {
                day += chance.unit() * (days * .9 - day - growth) * .7;
            }
            long onset = plan.start() + (long) (day * DAY_SECONDS);
            return new Fault(kind, size, onset, growth, shape, List.copyOf(jumps), mode);
        }

        private long after(MachineDraft machine, FaultKind kind, long onset) {
            Opening opening = machine.site.opening;
            if (kind.followsCleaning()) {
                long cleaning = opening.at(onset, opening.opens() - .5) + chance.below(1500);
                machine.cleanings.removeIf(at -> Math.abs(at - cleaning) <= BESIDE_CLEANING_SECONDS);
                machine.cleanings.add(cleaning);
                machine.cleanings.sort(Comparator.naturalOrder());
                machine.logsCleanings = true;
                return kind == FaultKind.LEFT_IN_CLEANING ? cleaning : cleaning + 3600;
            }
            if (kind.followsVisit()) {
                long visit = opening.at(onset, 10 + chance.between(0, 5));
                if (kind != FaultKind.EVAPORATOR_SENSOR_LOOSE || chance.hit(.6)) {
                    machine.site.logbook.visit(visit - 600, machine.id, "");
                }
                return visit;
            }
            return kind.beginsInUse() ? opening.at(onset, opening.opens() + chance.between(0, 6)) : onset;
        }
    }
}
