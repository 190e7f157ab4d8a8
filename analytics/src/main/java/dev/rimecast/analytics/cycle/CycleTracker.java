package dev.rimecast.analytics.cycle;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Finds one machine's cycles in its readings, which must come in order of (time, channel).
 *
 * <p>Turning points come from lengths that the machine timed itself, else from its phase, else from the two temperatures;
 * a machine that sends none of the temperatures still has cycles by its lengths. A cycle is handed on {@value
 * #HOLD_MILLIS} ms after its end, so that a length that comes a little later than the turn still counts.
 *
 * <table>
 * <caption>Edges</caption>
 * <tr><td>a gap of more than {@value #GAP_MILLIS} ms in a freeze or harvest</td><td>the cycle is incomplete, unless the
 * machine timed the freeze itself</td></tr>
 * <tr><td>a gap of more than {@value #LONG_GAP_MILLIS} ms</td><td>the cycle ends, incomplete, where the gap began</td></tr>
 * <tr><td>power cut, stop, cleaning, bin full in the middle of a freeze</td><td>the cycle ends there, incomplete</td></tr>
 * <tr><td>a freeze of more than {@value #LONGEST_FREEZE_MILLIS} ms</td><td>ends, incomplete</td></tr>
 * </table>
 */
public final class CycleTracker implements Boundaries {
    private static final long GAP_MILLIS = 300_000;
    private static final long PLATE_GAP_MILLIS = 180_000;
    private static final long LONG_GAP_MILLIS = 5_400_000;
    private static final long HOLD_MILLIS = 75_000;
    private static final long LONGEST_FREEZE_MILLIS = 6_000_000;
    private static final long LONGEST_HARVEST_MILLIS = 1_800_000;
    /** An older condenser reading is no witness of anything. */
    private static final long WITNESS_MILLIS = 600_000;

    /** By then the condenser of a running machine is warm. */
    private static final long COMPRESSOR_SEEN_MILLIS = 180_000;

    /** So long ago a room was not much warmer or colder. */
    private static final long ROOM_MILLIS = 2 * 3_600_000L;
    /** Water that has stood for longer than this in its pipe tells of the pipe's room. */
    private static final long WATER_STANDS_MILLIS = 3_600_000;

    private static final long NONE = Long.MIN_VALUE;

    /** Takes what is found. */
    public interface Sink {
        void cycle(RawCycle cycle);

        /** A drain level signal has lasted so long. */
        void drainLevel(long endMillis, double seconds);
    }

    private enum Stage {
        BETWEEN,
        FREEZING,
        HARVESTING
    }

    private final long restMillis;
    private PhaseSignal phaseSignal = new PhaseSignal();
    private PlateSignal plateSignal = new PlateSignal();
    private ZeroCrossing crossing = new ZeroCrossing();
    private TimedLengths timed = new TimedLengths();
    private FreezeTrace trace = new FreezeTrace();
    private WaterTrace waterBetween = new WaterTrace();
    private DrainTrace drain = new DrainTrace();
    private Meters meters = new Meters();
    private Stage stage = Stage.BETWEEN;
    private long newest = NONE;
    private long plateAt = NONE;
    private double condenser = Double.NaN;
    private long condenserAt = NONE;
    private float ambient = Float.NaN;
    private long ambientAt = NONE;
    private long freezeStart = NONE;
    private long freezeEnd = NONE;
    private long lastEnd = NONE;
    /** When the last cycle ended, however it did. */
    private long ranAt = NONE;

    private boolean hasGap;
    private int sinceRest;
    private Optional<RawCycle> held = Optional.empty();
    private final List<RawCycle> ready = new ArrayList<>(2);

    /** @param restMillis time between two cycles from which on the machine has rested */
    public CycleTracker(long restMillis) {
        this.restMillis = restMillis;
    }

    /** Takes the next reading. */
    public void accept(Channel channel, long millis, double value, Sink out) {
        if (newest != NONE && millis > newest) {
            timePassed(millis, out);
        }
        newest = millis;
        switch (channel) {
            case EVAPORATOR_TEMPERATURE -> evaporator(value, millis);
            case CONDENSER_TEMPERATURE -> {
                condenser = value;
                condenserAt = millis;
                if (stage == Stage.FREEZING) {
                    trace.condenser(value, millis);
                }
            }
            case AMBIENT_TEMPERATURE -> {
                ambient = (float) value;
                ambientAt = millis;
                if (stage == Stage.FREEZING) {
                    trace.ambient(value);
                }
            }
            case WATER_TEMPERATURE -> {
                double room = ambientAt != NONE && millis - ambientAt <= ROOM_MILLIS ? ambient : Double.NaN;
                if (stage != Stage.BETWEEN) {
                    trace.water(value, room);
                } else if (ranAt != NONE && millis - ranAt <= WATER_STANDS_MILLIS) {
                    waterBetween.read(value, room);
                }
            }
            case PHASE -> phaseSignal.on(Phase.ofOrdinal((int) value), millis, this);
            case DRAIN_LEVEL -> drain.flag(value != 0, millis, out);
            case FREEZE_TIME -> freezeTimed(millis, value);
            case HARVEST_TIME -> harvestTimed(millis, value);
            case PULL_DOWN_TIME -> timed.pullDown(millis, value);
            case FILL_TIME -> timed.fill(value);
            case DRAIN_LEVEL_TIME -> drain.levelTime(value);
            case DRAIN_RUN_TIME -> drain.runTime(value);
            case WATER_VOLUME -> meters.water(value);
            case ICE_MASS -> meters.ice(value);
            case SUPPLY_CURRENT, CONTROLLER_STATUS, BIN_FULL -> {}
        }
        if (!ready.isEmpty()) {
            ready.forEach(out::cycle);
            ready.clear();
        }
    }

    /** A drain-pump run has ended that was no longer than a tank takes to empty. */
    public void drainEmptied() {
        drain.emptied();
    }

    private void timePassed(long millis, Sink out) {
        boolean isBreak = newest != NONE && millis - newest > GAP_MILLIS;
        if (drain.isRisen()) {
            drain.passed(millis, isBreak, isStopped(millis), out);
        }
        if (held.isPresent() && millis - held.get().endMillis() > HOLD_MILLIS) {
            release();
        }
        if (stage == Stage.BETWEEN) {
            return;
        }
        long gap = millis - newest;
        boolean isOver = stage == Stage.FREEZING
                ? millis - freezeStart > LONGEST_FREEZE_MILLIS
                : millis - freezeEnd > LONGEST_HARVEST_MILLIS;
        if (gap > LONG_GAP_MILLIS || isOver) {
            interrupted(newest);
        } else if (gap > GAP_MILLIS) {
            hasGap = true;
        }
    }

    /** Without a phase whoever makes no cycle is taken to have stopped. */
    private boolean isStopped(long millis) {
        Optional<Phase> now = phase(millis);
        return now.isPresent() ? now.get() == Phase.STOPPED : stage == Stage.BETWEEN;
    }

    private void evaporator(double celsius, long millis) {
        if (stage == Stage.FREEZING) {
            trace.evaporator(celsius);
        } else if (stage == Stage.HARVESTING && crossing.isJoinedTo(millis)) {
            trace.harvestPlate(celsius, millis);
        }
        crossing.on(celsius, millis);
        double witness = condenserAt != NONE && millis - condenserAt <= WITNESS_MILLIS ? condenser : Double.NaN;
        if (phaseSignal.isTrusted(millis)) {
            plateAt = NONE;
            return;
        }
        if (plateAt == NONE || millis - plateAt > PLATE_GAP_MILLIS) {
            // Too seldom to show a turn. Where the machine times its cycles itself, that is no loss.
            hasGap |= plateAt != NONE && !timed.hasFreezeSince(millis - LONG_GAP_MILLIS);
            plateSignal.restart(celsius, millis, witness);
        }
        plateAt = millis;
        boolean wasFreezing = stage == Stage.FREEZING;
        plateSignal.on(celsius, millis, witness, this);
        if (wasFreezing && stage == Stage.HARVESTING) {
            // The turn is seen late, and this reading may be the only one of a short harvest.
            trace.harvestPlate(celsius, millis);
        }
    }

    private void freezeTimed(long end, double seconds) {
        timed.freeze(end, seconds);
        long start = end - Math.round(seconds * 1000);
        if (held.isPresent() && isNear(held.get().freezeStartMillis(), start)) {
            return;
        }
        if (!isOfThisCycle(start, end)) {
            if (stage == Stage.HARVESTING) {
                // Without timed harvests nothing says when it ended; the next freeze says that it did.
                finish(freezeEnd, !timed.hasHarvests() && !hasGap, false);
            } else if (stage == Stage.FREEZING) {
                interrupted(start);
            }
            begin(start);
        }
        freezeStart = start;
        freezeEnd = end;
        hasGap = false;
        stage = Stage.HARVESTING;
    }

    private boolean isOfThisCycle(long start, long end) {
        return switch (stage) {
            case BETWEEN -> false;
            case FREEZING -> freezeStart >= start - TimedLengths.BELONGS_MILLIS && freezeStart <= end;
            case HARVESTING -> isNear(freezeStart, start) || isNear(freezeEnd, end);
        };
    }

    private static boolean isNear(long a, long b) {
        return Math.abs(a - b) <= TimedLengths.BELONGS_MILLIS;
    }

    private void harvestTimed(long end, double seconds) {
        timed.harvest();
        if (stage == Stage.HARVESTING) {
            finish(end, !hasGap, true);
            held = held.map(cycle -> cycle.withHarvest(end, seconds));
        } else if (held.isPresent() && isNear(held.get().endMillis(), end)) {
            held = held.map(cycle -> cycle.withHarvest(end, seconds));
            lastEnd = end;
        }
    }

    @Override
    public void freezeStart(long millis) {
        if (stage == Stage.FREEZING) {
            return;
        }
        if (stage == Stage.HARVESTING) {
            finish(millis, !hasGap, true);
        }
        begin(millis);
    }

    private void begin(long millis) {
        if (lastEnd == NONE || millis - lastEnd > restMillis) {
            sinceRest = 0;
        }
        trace = new FreezeTrace(waterBetween);
        waterBetween = new WaterTrace();
        crossing.freezeStarted(millis);
        freezeStart = millis;
        freezeEnd = NONE;
        hasGap = false;
        stage = Stage.FREEZING;
    }

    @Override
    public void freezeEnd(long millis) {
        if (stage == Stage.FREEZING) {
            freezeEnd = Math.max(millis, freezeStart);
            stage = Stage.HARVESTING;
        }
    }

    @Override
    public void harvestEnd(long millis) {
        if (stage == Stage.HARVESTING) {
            finish(Math.max(millis, freezeEnd), !hasGap, true);
        }
    }

    @Override
    public void harvestFaded(long millis) {
        if (stage == Stage.HARVESTING) {
            finish(Math.max(millis, freezeEnd), !hasGap, false);
        }
    }

    @Override
    public void interrupted(long millis) {
        if (stage != Stage.BETWEEN) {
            finish(Math.max(millis, stage == Stage.FREEZING ? freezeStart : freezeEnd), false, false);
        }
        lastEnd = NONE;
        sinceRest = 0;
    }

    private void finish(long end, boolean isComplete, boolean hasHarvest) {
        release();
        held = Optional.of(new FinishedCycle(freezeStart, freezeEnd, end, isComplete, hasHarvest, apart(end), sinceRest)
                .toRaw(trace, crossing, timed, drain, meters));
        drain.nextCycle();
        sinceRest = isComplete ? sinceRest + 1 : 0;
        lastEnd = end;
        ranAt = end;
        stage = Stage.BETWEEN;
    }

    private int apart(long now) {
        return phaseSignal.isTrusted(now) ? phaseSignal.apartSeconds() : crossing.apartSeconds();
    }

    private void release() {
        held.ifPresent(ready::add);
        held = Optional.empty();
    }

    /** The phase that the machine says it is in, where it says so. */
    public Optional<Phase> phase(long now) {
        return phaseSignal.isTrusted(now) ? phaseSignal.phase() : Optional.empty();
    }

    /** When that phase began. */
    public long phaseSinceMillis() {
        return phaseSignal.sinceMillis();
    }

    /** Start of the freeze that goes on now and has not reached 0 °C yet, else {@link Long#MIN_VALUE}. */
    public long pullingDownSinceMillis() {
        boolean isPullingDown = stage == Stage.FREEZING && !crossing.isKnown() && !hasGap && trace.isAboveZero();
        return isPullingDown ? freezeStart : NONE;
    }

    /**
     * The condenser says that the compressor does not run. A freeze that temperatures alone seemed to show, and that has not
     * brought the plate to 0 °C, was none: a resting plate that drifted.
     */
    public void compressorIsOff(long millis) {
        boolean isDoubtful = pullingDownSinceMillis() != NONE
                && !phaseSignal.isTrusted(millis)
                && millis - freezeStart > COMPRESSOR_SEEN_MILLIS;
        if (isDoubtful) {
            stage = Stage.BETWEEN;
            lastEnd = NONE;
            sinceRest = 0;
            plateSignal.rest();
        }
    }

    public void save(StateWriter out) {
        phaseSignal.save(out);
        plateSignal.save(out);
        crossing.save(out);
        timed.save(out);
        trace.save(out);
        drain.save(out);
        meters.save(out);
        out.u8(stage.ordinal()).time(newest).time(plateAt).real(condenser).time(condenserAt);
        out.time(freezeStart).time(freezeEnd).time(lastEnd).flag(hasGap).whole(sinceRest);
        out.flag(held.isPresent());
        held.ifPresent(cycle -> cycle.save(out));
        waterBetween.save(out);
        out.real32(ambient).time(ambientAt).time(ranAt);
    }

    public static CycleTracker restore(StateReader in, long restMillis) {
        CycleTracker tracker = new CycleTracker(restMillis);
        tracker.phaseSignal = PhaseSignal.restore(in);
        tracker.plateSignal = PlateSignal.restore(in);
        tracker.crossing = ZeroCrossing.restore(in);
        tracker.timed = TimedLengths.restore(in);
        tracker.trace = FreezeTrace.restore(in);
        tracker.drain = DrainTrace.restore(in);
        tracker.meters = Meters.restore(in);
        tracker.stage = Stage.values()[in.u8()];
        tracker.newest = in.time();
        tracker.plateAt = in.time();
        tracker.condenser = in.real();
        tracker.condenserAt = in.time();
        tracker.freezeStart = in.time();
        tracker.freezeEnd = in.time();
        tracker.lastEnd = in.time();
        tracker.hasGap = in.flag();
        tracker.sinceRest = in.wholeInt();
        tracker.held = in.flag() ? Optional.of(RawCycle.restore(in)) : Optional.empty();
        if (in.hasLayout(WaterTrace.WITH_ROOM)) {
            tracker.waterBetween = WaterTrace.restore(in);
            tracker.ambient = in.real32();
            tracker.ambientAt = in.time();
            tracker.ranAt = in.time();
        }
        return tracker;
    }
}
