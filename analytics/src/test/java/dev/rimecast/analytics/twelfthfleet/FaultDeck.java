package dev.rimecast.analytics.twelfthfleet;

import static dev.rimecast.telemetry.finding.Cause.*;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Random;
import java.util.Set;

/** Deals faults: every cause by turns, on machines that can have it and show it. */
final class FaultDeck {
    static final Set<Cause> OF_SITE = EnumSet.of(ROOM_TOO_HOT, ROOM_TOO_COLD, GATEWAY_LINK_DOWN);
    private static final Set<Cause> STEPS = EnumSet.of(
            FAN_FAILED,
            HOT_AIR_RECIRCULATING,
            CURTAIN_MISPLACED,
            SPRAY_UNIT_MISPLACED,
            SUMP_PLUG_OFF,
            WASTE_HOSE_KINKED,
            LEFT_IN_CLEANING,
            POWER_OFF,
            START_DELAY_SET,
            DRAIN_PUMP_FAILED,
            HOT_GAS_VALVE_NOT_OPENING,
            COMPRESSOR_NOT_STARTING,
            EVAPORATOR_SENSOR_LOOSE,
            EVAPORATOR_SENSOR_FAILED,
            CONDENSER_SENSOR_FAILED,
            BIN_SENSOR_FAILED,
            PROBES_SWAPPED,
            AIR_IN_CIRCUIT_OR_OVERCHARGED,
            ROOM_TOO_HOT,
            ROOM_TOO_COLD,
            GATEWAY_LINK_DOWN);
    private static final Set<Cause> EITHER = EnumSet.of(
            AIRFLOW_RESTRICTED, WATER_SUPPLY_LOW, DUMP_VALVE_LEAKING, INLET_VALVE_LEAKING, LEVEL_PROBES_FOULED);
    private static final Set<Cause> DRAIN =
            EnumSet.of(WASTE_HOSE_KINKED, DRAIN_BLOCKED, DRAIN_PUMP_FAILED, LEVEL_PROBES_FOULED);
    private static final Set<Cause> AIR =
            EnumSet.of(AIRFLOW_RESTRICTED, FAN_WEAK, FAN_FAILED, HOT_AIR_RECIRCULATING, ROOM_TOO_HOT, ROOM_TOO_COLD);
    private static final double DAY = 86_400;

    private final Random random;
    private final long seed;
    private final int days;
    private final List<Cause> waiting = new ArrayList<>();

    FaultDeck(Random random, int days, long seed) {
        this.seed = seed;
        this.random = random;
        this.days = days;
    }

    /** The next cause in turn that this machine can have and its channels can show. */
    Cause next(Design design, boolean drainChannels, boolean binChannel, boolean offAtNight) {
        for (int round = 0; ; round++) {
            for (int i = 0; i < waiting.size(); i++) {
                if (suits(waiting.get(i), design, drainChannels, binChannel, offAtNight)) {
                    return waiting.remove(i);
                }
            }
            List<Cause> more = new ArrayList<>(EnumSet.complementOf(EnumSet.of(CONTROLLER_FAILED, WATER_LOSS)));
            more.removeAll(OF_SITE);
            // one order for all fleets, each begins elsewhere: a few fleets together have every cause
            Collections.shuffle(more, new Random(4711));
            Collections.rotate(more, (int) -(seed * 17 % more.size()));
            waiting.addAll(more);
            if (round > 2) {
                throw new IllegalStateException("no cause suits " + design.name());
            }
        }
    }

    private static boolean suits(Cause cause, Design design, boolean drain, boolean bin, boolean offAtNight) {
        if (AIR.contains(cause) && design.cooling() == Cooling.WATER
                || cause == HOT_AIR_RECIRCULATING && design.cooling() == Cooling.REMOTE) {
            return false;
        }
        if (DRAIN.contains(cause)) {
            return drain && design.drain() == DrainKind.PUMP;
        }
        if (cause == BIN_SENSOR_FAILED) {
            return bin;
        }
        return cause != START_DELAY_SET || offAtNight;
    }

    /** A fault of that cause at a time that suits it: steps in opening hours of an open day. */
    Fault deal(Cause cause, Place place) {
        boolean step = STEPS.contains(cause) || EITHER.contains(cause) && random.nextDouble() < 0.3;
        double severity = random.nextDouble();
        double bend = random.nextDouble() < 0.6 ? 1 : 1.6;
        double variant = random.nextDouble();
        double lasts = switch (cause) {
            case LEFT_IN_CLEANING, POWER_OFF -> DAY * (1.3 + 4 * random.nextDouble());
            case ROOM_TOO_HOT, ROOM_TOO_COLD, GATEWAY_LINK_DOWN -> DAY * (1.5 + 5 * random.nextDouble());
            default -> 1e12;
        };
        if (step) {
            return new Fault(cause, stepTime(place), 0, severity, 1, variant, lasts);
        }
        double longest = Math.min(200, (days - 25) / Math.pow(0.8, 1 / bend));
        double growth = 7 * Math.pow(longest / 7, random.nextDouble());
        double latest = days - 3 - growth * Math.pow(0.8, 1 / bend);
        double onset = 18 + (latest - 18) * random.nextDouble();
        return new Fault(cause, onset * DAY, growth * DAY, severity, bend, variant, lasts);
    }

    private double stepTime(Place place) {
        while (true) {
            int day = 18 + random.nextInt(days - 24);
            double hour = place.open + 1 + random.nextDouble() * 7;
            int step = (int) (day * DAY + hour * 3600) / Place.STEP;
            if (place.isOpen(step) && !place.closedDay(day + 1) && place.powered[step] && place.linkBack[step] == 0) {
                return day * DAY + hour * 3600;
            }
        }
    }
}
