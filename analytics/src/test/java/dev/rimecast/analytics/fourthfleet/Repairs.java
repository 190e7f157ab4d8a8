package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Phase;
import java.util.Optional;

/** When somebody calls about a fault, and the visit that mends it. */
final class Repairs {
    private static final long NEVER = Long.MAX_VALUE;
    private static final long DAY_SECONDS = 86_400;
    private static final double HOUR_SECONDS = 3600;
    private static final double CALL_WRITTEN_SHARE = .7;

    private final String machine;
    private final Plant plant;
    private final Ailment ailment;
    private final PhaseClock clock;
    private final Controls controls;
    private final Protection protection;
    private final Chance chance;
    private final Logbook logbook;
    private final boolean weather;
    private long callAt = NEVER;
    private long repairAt = NEVER;
    private boolean called;

    Repairs(
            String machine,
            Plant plant,
            PhaseClock clock,
            Controls controls,
            Protection protection,
            Chance chance,
            Logbook logbook) {
        this.machine = machine;
        this.plant = plant;
        this.ailment = plant.ailment;
        this.clock = clock;
        this.controls = controls;
        this.protection = protection;
        this.chance = chance;
        this.logbook = logbook;
        this.weather = ailment.fault.kind() == FaultKind.ROOM_TOO_HOT;
    }

    /** Gives true in the hour of the repair. */
    boolean hour(long t) {
        if (!ailment.isDueAt(t)) {
            return false;
        }
        if (callAt == NEVER) {
            plan(t);
        }
        if (protection.isLocked() && !weather && !called && callAt != NEVER && callAt > t + 16 * HOUR_SECONDS) {
            callAt = t + hours(2, 16);
            repairAt = callAt + hours(5, 44);
        }
        if (!called && t >= callAt) {
            called = true;
            if (!weather && chance.hit(CALL_WRITTEN_SHARE)) {
                logbook.tell(t, machine, EventKind.CALL, complaint(), "site");
            }
        }
        if (t < repairAt) {
            return false;
        }
        mend(t);
        return true;
    }

    private void plan(long t) {
        boolean step = ailment.fault.isStep();
        long stopped = ailment.stopped().orElse(NEVER - DAY_SECONDS);
        if (!weather && (protection.isLocked() || t > stopped + DAY_SECONDS)) {
            callAt = t + hours(2, 16);
        } else if (!step && ailment.grown() >= 1 && chance.hit(.010)) {
            callAt = t;
        } else if (step) {
            callAt = ailment.fault.onset() + patience();
        }
        if (callAt != NEVER) {
            repairAt = callAt + hours(5, 44);
        }
        if (weather) {
            repairAt = ailment.fault.onset() + 6 * DAY_SECONDS;
        }
    }

    private long hours(double from, double to) {
        return (long) (chance.between(from, to) * HOUR_SECONDS);
    }

    private long patience() {
        return switch (ailment.fault.kind()) {
            case SUMP_PLUG_OFF,
                    POWER_OFF,
                    LEFT_IN_CLEANING,
                    COMPRESSOR_NOT_STARTING,
                    CONTROLLER_FAILED,
                    HOT_GAS_VALVE_NOT_OPENING -> hours(10, 44);
            case ROOM_TOO_HOT -> hours(120, 120);
            case BIN_SENSOR_FAILED -> ailment.saysFull() ? hours(30, 60) : hours(110, 240);
            default -> hours(36, 220);
        };
    }

    private String complaint() {
        if (protection.isLocked()) {
            return "no-ice";
        }
        return switch (ailment.fault.kind()) {
            case SUMP_PLUG_OFF, POWER_OFF, CONTROLLER_FAILED, COMPRESSOR_NOT_STARTING -> "no-ice";
            case DRAIN_PUMP_FAILED, WASTE_HOSE_KINKED -> "water-on-floor";
            default -> "little-ice";
        };
    }

    private void mend(long t) {
        FaultKind kind = ailment.fault.kind();
        ailment.repair();
        protection.unlock();
        boolean byThemselves = switch (kind) {
            case POWER_OFF, LEFT_IN_CLEANING, ROOM_TOO_HOT -> true;
            case HOT_AIR_RECIRCULATING -> chance.hit(.5);
            default -> false;
        };
        if (!byThemselves) {
            visit(t, kind);
        }
        if (clock.is(Phase.CLEAN)) {
            logbook.tell(t, machine, EventKind.CLEANED, "", "site");
        }
        if (!clock.is(Phase.OFF)) {
            plant.evaporator.takeIce();
            controls.start(t);
        }
    }

    private void visit(long t, FaultKind kind) {
        logbook.visit(t, machine, kind.cause().orElseThrow().code());
        part(kind).ifPresent(part -> work(t, EventKind.PART_REPLACED, part));
        switch (kind) {
            case EVAPORATOR_SENSOR_FAILED, CONDENSER_SENSOR_FAILED, BIN_SENSOR_FAILED ->
                work(t, EventKind.SENSOR_REPLACED, "");
            case CONTROLLER_FAILED -> work(t, EventKind.CONTROLLER_REPLACED, "");
            case AIRFLOW_RESTRICTED -> {
                plant.soil.dust = 0;
                work(t, EventKind.AIR_FILTER_WASHED, "");
            }
            case SCALE -> {
                plant.soil.scale = .03;
                work(t, EventKind.CLEANED, "");
            }
            case WATER_SUPPLY_LOW -> work(t, EventKind.WATER_FILTER_CHANGED, "");
            default -> {}
        }
    }

    private void work(long t, EventKind kind, String detail) {
        logbook.tell(t + 60, machine, kind, detail, "engineer");
    }

    private static Optional<String> part(FaultKind kind) {
        return switch (kind) {
            case FAN_FAILED, FAN_WEAK -> Optional.of("fan-motor");
            case INLET_VALVE_LEAKING -> Optional.of("inlet-valve");
            case HOT_GAS_VALVE_LEAKING, HOT_GAS_VALVE_NOT_OPENING -> Optional.of("hot-gas-valve");
            case DUMP_VALVE_LEAKING -> Optional.of("dump-valve");
            case DRAIN_PUMP_FAILED -> Optional.of("drain-pump");
            case COMPRESSOR_WEAK, COMPRESSOR_NOT_STARTING -> Optional.of("compressor");
            case CIRCULATION_PUMP_WEAK -> Optional.of("circulation-pump");
            default -> Optional.empty();
        };
    }
}
