package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.acceptance.AcceptanceWatch;
import dev.rimecast.analytics.care.CareWatch;
import dev.rimecast.analytics.cycle.CycleTracker;
import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.limits.CondensingLimit;
import dev.rimecast.analytics.limits.FillWatch;
import dev.rimecast.analytics.limits.HotStarts;
import dev.rimecast.analytics.limits.PlaceLimit;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.limits.StateWatch;
import dev.rimecast.analytics.making.IceWatch;
import dev.rimecast.analytics.making.RestartWatch;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.proof.ProofWatch;
import dev.rimecast.analytics.sensor.SensorCheck;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateVersion;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.analytics.watch.FailedHarvests;
import dev.rimecast.analytics.watch.JudgedCycle;
import dev.rimecast.analytics.watch.MachineWatch;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/** Everything that is remembered of one machine, beside its row and what is open: each part keeps its own state. */
final class MachineParts {
    /** From this layout on a machine's state has what its cycles say of the water, and how high its condensing temperature was. */
    private static final int WITH_WATER = 9;
    /** From this one on, how it does in its first cycles, and what has gone through it since its care. */
    private static final int WITH_ACCEPTANCE = 10;
    /** From this one on, its fill that goes on. */
    private static final int WITH_FILL = 16;

    private static final int WITH_SILENT_HOURS = 17;
    private static final int WITH_HOT_STARTS = 18;
    private static final int WITH_FAILED_HARVESTS = 19;
    /** From this layout of what it has learned on: by the air there, where its condenser stands out of doors. */
    private static final int BY_AIR_OUT_OF_DOORS = 14;

    /** From this one on, what it has learned stands apart, since only cycles and work change it. */
    static final int WITH_LEARNED_APART = 12;

    private static final long DAY_MILLIS = 86_400_000L;

    final ReorderWindow window;
    final CycleTracker tracker;
    final Place place;
    final SensorCheck sensors;
    final PlaceLimit air;
    final PlaceLimit water;
    final CondensingLimit condensing;
    final HotStarts hotStarts;
    final StateWatch states;
    /** Another one when the machine is another, or stands elsewhere. */
    FillWatch fills;

    final IceWatch making;
    final RestartWatch restarts;
    final CareWatch care;
    /** Another one when the machine is exchanged. */
    MachineWatch watch;

    final ProofWatch proofs;
    final WaterSigns waterSigns;
    final AcceptanceWatch acceptance;
    final SilentHours silentHours;
    final FailedHarvests failedHarvests;

    private MachineParts(GroupPolicy policy) {
        window = new ReorderWindow();
        tracker = new CycleTracker(policy.millis(PolicyNumber.REST_MINUTES));
        place = new Place();
        sensors = new SensorCheck();
        air = PlaceLimit.of(Channel.AMBIENT_TEMPERATURE);
        water = PlaceLimit.of(Channel.WATER_TEMPERATURE);
        condensing = new CondensingLimit();
        hotStarts = new HotStarts();
        states = new StateWatch();
        fills = new FillWatch();
        making = new IceWatch();
        restarts = new RestartWatch();
        care = new CareWatch();
        watch = new MachineWatch();
        proofs = new ProofWatch();
        waterSigns = new WaterSigns();
        acceptance = new AcceptanceWatch();
        silentHours = new SilentHours();
        failedHarvests = new FailedHarvests();
    }

    /** In the order of {@link #save}. */
    private MachineParts(StateReader in, StateReader learned, int version, GroupPolicy policy) {
        window = ReorderWindow.restore(in);
        tracker = CycleTracker.restore(in, policy.millis(PolicyNumber.REST_MINUTES));
        place = Place.restore(in);
        sensors = SensorCheck.restore(in);
        air = PlaceLimit.restore(Channel.AMBIENT_TEMPERATURE, in);
        water = PlaceLimit.restore(Channel.WATER_TEMPERATURE, in);
        condensing = CondensingLimit.restore(in, version >= WITH_WATER);
        states = StateWatch.restore(in);
        making = IceWatch.restore(in);
        restarts = RestartWatch.restore(in);
        care = CareWatch.restore(in, version >= WITH_ACCEPTANCE);
        watch = MachineWatch.restore(learned, policy);
        proofs = ProofWatch.restore(in);
        waterSigns = version >= WITH_WATER ? WaterSigns.restore(in) : new WaterSigns();
        acceptance = version >= WITH_ACCEPTANCE ? AcceptanceWatch.restore(in) : AcceptanceWatch.over();
        fills = version >= WITH_FILL ? FillWatch.restore(in) : FillWatch.of(making.cycleMillis() != Long.MIN_VALUE);
        silentHours = version >= WITH_SILENT_HOURS ? SilentHours.restore(in) : new SilentHours();
        hotStarts = version >= WITH_HOT_STARTS ? HotStarts.restore(in) : new HotStarts();
        failedHarvests = version >= WITH_FAILED_HARVESTS ? FailedHarvests.restore(in) : new FailedHarvests();
    }

    /** Reads what {@link #saveLearned} wrote. */
    static StateReader learned(byte @Nullable [] apart) {
        if (apart == null) {
            throw new IllegalStateException("what the machine has learned is missing beside its state");
        }
        StateReader in = new StateReader(apart);
        StateVersion.LEARNED.require(in);
        return in;
    }

    static boolean isOfDrain(Channel channel) {
        return channel == Channel.DRAIN_LEVEL
                || channel == Channel.DRAIN_LEVEL_TIME
                || channel == Channel.DRAIN_RUN_TIME;
    }

    void arrived(
            Channel channel,
            double value,
            long millis,
            RuleContext context,
            Supplier<List<ProbableCause>> causesOfHeat) {
        if (channel == Channel.CONDENSER_TEMPERATURE
                && value <= context.policy().get(PolicyNumber.CONDENSER_MAX_CELSIUS)) {
            condensing.arrived(value, millis, context, causesOfHeat);
        }
    }

    /** Takes a word of the phase before all else has it; returns whether a cleaning begins with it. */
    boolean isCleaningBegun(Phase said, long millis) {
        restarts.phase(said, millis);
        return said == Phase.CLEAN && !tracker.phase(millis).equals(Optional.of(said));
    }

    /** What the machine says that it does, with a reading in its order. */
    void doing(
            Channel channel,
            double value,
            long millis,
            Optional<Phase> phase,
            RuleContext context,
            Supplier<List<ProbableCause>> causes,
            Supplier<List<ProbableCause>> causesOfHeat) {
        if (phase.isEmpty()
                && channel == Channel.CONDENSER_TEMPERATURE
                && hotStarts.condenser(value, millis, context, causesOfHeat)) {
            states.foundStopped();
        }
        if (channel == Channel.EVAPORATOR_TEMPERATURE) {
            failedHarvests.plate(value, millis, phase, tracker.phaseSinceMillis(), context);
        }
        fills.read(channel, value, millis, phase, context);
        states.read(phase, tracker.phaseSinceMillis(), millis, context, causes);
        making.read(channel, value, millis, phase, tracker.phaseSinceMillis(), place.isAtRest(), context, causes);
    }

    /** A cycle that was judged, for all that has to do with more than what it should have been. */
    void cycle(RawCycle raw, JudgedCycle judged, SiteWater water, RuleContext context) {
        long millis = raw.endMillis();
        long day = Math.floorDiv(millis, DAY_MILLIS);
        if (!place.isWaterMeasured()) {
            double known = water.on(day).kelvin();
            judged.warmerWaterKelvin(context.policy()).ifPresent(kelvin -> waterSigns.see(day, known + kelvin));
        } else if (!context.isOpen(Condition.SENSOR_IMPLAUSIBLE)) {
            place.warmerThanSeason(raw, context.policy()).ifPresent(kelvin -> water.measured(day, kelvin));
        }
        if (raw.complete()) {
            states.completed(millis, context);
            hotStarts.completed();
            fills.completed();
        }
        care.cycle(raw, context);
        boolean isIceMade = !failedHarvests.isFailing();
        making.cycle(raw, tracker.phase(millis).isPresent(), isIceMade, context);
    }

    /** A condenser that stands elsewhere now: what was learned was against another air than what it is judged by from here on. */
    void registered(Machine before, Machine now) {
        if (isOutOfDoors(before) != isOutOfDoors(now)) {
            watch = new MachineWatch();
        }
    }

    /** @param learned what its expectations were read from: earlier versions took the room's air for that out of doors */
    void restored(Machine machine, StateReader learned) {
        if (isOutOfDoors(machine) && !learned.hasLayout(BY_AIR_OUT_OF_DOORS)) {
            watch = new MachineWatch();
        }
    }

    /** Whether its condenser stands in other air than the machine, and with it the sensor of that air. */
    static boolean isOutOfDoors(Machine machine) {
        return machine.condenserCooling() == Machine.Cooling.REMOTE;
    }

    /** What is probably wrong with the machine, as all of its parts have it. */
    List<ProbableCause> causes(RuleContext context) {
        List<ProbableCause> beforeCycles = causesBeforeCycles();
        if (!beforeCycles.isEmpty()) {
            return beforeCycles;
        }
        if (failedHarvests.isFailing()) {
            return failedHarvests.causes(window.newestMillis(), context);
        }
        return isHotLately() ? causesOfHeat(context) : watch.causes(context);
    }

    List<ProbableCause> causesOfHeat(RuleContext context) {
        return watch.causesOfHeat(ambient(), context);
    }

    /** What stops the machine before there is a cycle that could show it; else empty. */
    List<ProbableCause> causesBeforeCycles() {
        if (making.isCompressorSilent()) {
            return IceWatch.COMPRESSOR_CAUSES;
        }
        return isHotLately() ? List.of() : fills.causes(window.newestMillis());
    }

    /** Since when it says that it is switched off; {@link Long#MIN_VALUE} where it does not. */
    long offSinceMillis() {
        boolean isOff = tracker.phase(window.newestMillis()).equals(Optional.of(Phase.OFF));
        return isOff ? tracker.phaseSinceMillis() : Long.MIN_VALUE;
    }

    /** Somebody has worked on the machine. */
    void worked(long millis) {
        states.worked();
        fills.worked();
        making.worked(millis);
        sensors.worked();
    }

    /** Whether the condensing temperature was at its limit or near to it. */
    boolean isHotLately() {
        return condensing.isNearLately(window.newestMillis());
    }

    /** What its own ambient sensor says, where it has one. */
    OptionalDouble ambient() {
        return sensors.restShift().ownAmbient(window.newestMillis());
    }

    void ofPlace(Channel channel, double value, long millis, RuleContext context) {
        if (channel == Channel.AMBIENT_TEMPERATURE) {
            if (!isOutOfDoors(context.machine())) {
                air.read(value, millis, context);
            } else if (context.isOpen(Condition.AMBIENT_OUT_OF_RANGE)) {
                context.clear(Condition.AMBIENT_OUT_OF_RANGE, millis, "This sensor stands out of doors.");
            }
        } else if (channel == Channel.WATER_TEMPERATURE) {
            water.read(value, millis, context);
        } else if (channel == Channel.CONDENSER_TEMPERATURE) {
            ofCondenser(value, millis, context);
        }
    }

    /** Outdoors or in water, a condenser shows no room. */
    private void ofCondenser(double celsius, long millis, RuleContext context) {
        boolean isRoom = place.condenser(celsius, millis);
        if (isRoom
                && context.machine().condenserCooling() == Machine.Cooling.AIR
                && ambient().isEmpty()) {
            air.readAtRest(celsius, millis, context);
        }
    }

    static MachineParts fresh(GroupPolicy policy) {
        return new MachineParts(policy);
    }

    /**
     * @param learned what {@link #saveLearned} wrote; the same as {@code in} before {@link #WITH_LEARNED_APART}
     * @param version of the layout that the state was written in
     */
    static MachineParts restore(StateReader in, StateReader learned, int version, GroupPolicy policy) {
        return new MachineParts(in, learned, version, policy);
    }

    void save(StateWriter out) {
        window.save(out);
        tracker.save(out);
        place.save(out);
        sensors.save(out);
        air.save(out);
        water.save(out);
        condensing.save(out);
        states.save(out);
        making.save(out);
        restarts.save(out);
        care.save(out);
        proofs.save(out);
        waterSigns.save(out);
        acceptance.save(out);
        fills.save(out);
        silentHours.save(out);
        hotStarts.save(out);
        failedHarvests.save(out);
    }

    /** What {@link #save} leaves out: most of the bytes, and seldom changed. */
    void saveLearned(StateWriter out) {
        watch.save(out);
    }
}
