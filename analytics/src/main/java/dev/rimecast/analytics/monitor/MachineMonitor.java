package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.cycle.CycleTracker;
import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.expect.OfKind;
import dev.rimecast.analytics.expect.SiteWeather;
import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.finding.Subject;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.making.Beside;
import dev.rimecast.analytics.making.IceWatch;
import dev.rimecast.analytics.making.RestartWatch;
import dev.rimecast.analytics.policy.PolicyShelf;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateVersion;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.analytics.watch.JudgedCycle;
import dev.rimecast.analytics.watch.MachineWatch;
import dev.rimecast.telemetry.cycle.Acceptance;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/**
 * What is known of one machine, and what is decided about it: readings are put in order, become cycles, and cycles are
 * judged; limits are judged as readings arrive. A plain object: one thread, no clock.
 */
final class MachineMonitor implements ReorderWindow.Sink, CycleTracker.Sink {
    private static final long DAY_MILLIS = 86_400_000;

    private final PolicyShelf policies;
    private final SiteWeather weather;
    private final SiteWater water;
    private byte[] row;
    /** Whether the row is another one than was last saved. */
    private boolean isRowNew = true;

    private RuleContext context;
    private final FindingBook book;
    private final MachineParts parts;
    /** The site's count of ticks when the machine was last heard. */
    private long heardAtTick;

    private boolean heard;
    /** Whether the site has noted that its state has changed since it was last saved. */
    private boolean touched;

    private SiteMonitor.Output out = Nowhere.OUTPUT;
    private CycleTap tap = CycleTap.NONE;
    private final Supplier<List<ProbableCause>> causes;
    private final Supplier<List<ProbableCause>> causesOfHeat;

    private MachineMonitor(
            byte[] row,
            RuleContext context,
            FindingBook book,
            MachineParts parts,
            PolicyShelf policies,
            SiteWeather weather,
            SiteWater water) {
        this.row = row;
        this.context = context;
        this.book = book;
        this.parts = parts;
        this.policies = policies;
        this.weather = weather;
        this.water = water;
        this.causes = () -> parts.causes(context);
        this.causesOfHeat = () -> parts.causesOfHeat(context);
    }

    static MachineMonitor fresh(Machine machine, PolicyShelf policies, SiteWeather weather, SiteWater water) {
        FindingBook book = new FindingBook(Subject.machine(machine.site(), machine.id()));
        RuleContext context = new RuleContext(machine, policies, weather, book);
        return new MachineMonitor(
                rowOf(machine), context, book, MachineParts.fresh(context.policy()), policies, weather, water);
    }

    /** Without what only people need to know of it: the state has no room for that, and nothing here depends on it. */
    private static byte[] rowOf(Machine machine) {
        return SiteLogCodec.encode(new SiteRecord.Registered(Instant.EPOCH, machine.withBuild(Machine.Build.NOT_SAID)));
    }

    boolean isTouched() {
        return touched;
    }

    void touched(boolean isTouched) {
        touched = isTouched;
    }

    Machine machine() {
        return context.machine();
    }

    /** Notes what its readings come to, or says it in their place. */
    void tapped(CycleTap by) {
        tap = by;
        context.through(by);
    }

    void registered(Machine machine) {
        parts.registered(context.machine(), machine);
        row = rowOf(machine);
        isRowNew = true;
        renew(machine);
    }

    void policyChanged() {
        renew(context.machine());
    }

    Admission accept(Reading reading, long tick, SiteMonitor.Output output) {
        to(output);
        heardAtTick = tick;
        heard = true;
        Silence.heard(reading.timeMillis(), context);
        parts.silentHours.heard(parts.window.newestMillis(), reading.timeMillis());
        double value =
                reading.channel() == Channel.CONTROLLER_STATUS ? reading.text().hashCode() : reading.value();
        Admission admission = parts.window.offer(reading.channel(), reading.timeMillis(), value, this);
        if (admission == Admission.USED) {
            arrived(reading.channel(), value, reading.timeMillis());
        }
        return admission;
    }

    /** Where to say what is found; a reference to a method is an object, and this is asked for with every reading. */
    private void to(SiteMonitor.Output output) {
        if (out != output) {
            out = output;
            context.out(finding -> {
                output.finding(finding);
                parts.proofs.finding(finding, context, output::proof);
            });
        }
    }

    private void renew(Machine machine) {
        context = new RuleContext(machine, policies, weather, book);
        context.through(tap);
        out = Nowhere.OUTPUT;
    }

    private void arrived(Channel channel, double value, long millis) {
        if (channel == Channel.DRAIN_LEVEL_TIME) {
            drainLevel(millis, value);
        } else {
            parts.arrived(channel, value, millis, context, causesOfHeat);
        }
    }

    @Override
    public void ordered(Channel channel, long millis, double value) {
        if (!parts.sensors.read(channel, value, parts.making.isCompressorOff(), millis, context)) {
            return;
        }
        if (context.machine().kind() == Machine.Kind.CONTINUOUS && !MachineParts.isOfDrain(channel)) {
            return;
        }
        parts.care.heard(millis);
        if (channel == Channel.PHASE && parts.isCleaningBegun(Phase.ofOrdinal((int) value), millis)) {
            cleaned(millis);
        }
        if (channel == Channel.DRAIN_RUN_TIME && value < context.limits().drainRunSeconds()) {
            parts.tracker.drainEmptied();
        }
        if (channel != Channel.AMBIENT_TEMPERATURE || !MachineParts.isOutOfDoors(context.machine())) {
            parts.tracker.accept(channel, millis, value, this);
        }
        parts.ofPlace(channel, value, millis, context);
        Optional<Phase> phase = parts.tracker.phase(millis);
        if (channel == Channel.CONDENSER_TEMPERATURE && parts.place.isAtRest()) {
            parts.tracker.compressorIsOff(millis);
        }
        if (!parts.sensors.areSwapped()) {
            passed(parts.tracker.pullingDownSinceMillis(), millis, parts.making.isCompressorSilent());
        }
        parts.doing(channel, value, millis, phase, context, causes, causesOfHeat);
    }

    /** The machine says that it is cleaned from now on. */
    void cleaned(long millis) {
        tap.cleaned(millis);
        parts.watch.cleaned(millis);
    }

    /** Time goes by in a freeze. */
    void passed(long pullingDownSince, long millis, boolean isSilent) {
        if (pullingDownSince != Long.MIN_VALUE) {
            tap.passed(pullingDownSince, millis, isSilent, context.limits().pullDownSeconds());
        }
        parts.watch.passed(pullingDownSince, millis, isSilent ? IceWatch.COMPRESSOR_CAUSES : List.of(), context);
    }

    @Override
    public void drainLevel(long endMillis, double seconds) {
        tap.drainLevel(endMillis, seconds);
        parts.watch.drainLevel(endMillis, seconds, context);
    }

    @Override
    public void cycle(RawCycle raw) {
        SiteWater.Shift waterShift = water.on(Math.floorDiv(raw.endMillis(), DAY_MILLIS));
        Place.Rest rest = tap.began(parts.place.rest(raw.endMillis()));
        Conditions measured =
                parts.place.during(raw, rest, context.machine().condenserCooling(), waterShift, context.policy());
        JudgedCycle judged = parts.watch.cycle(raw, measured, context);
        parts.cycle(raw, judged, water, context);
        tap.cycle(raw, rest);
        Optional<Acceptance> acceptance = parts.acceptance.cycle(judged, parts.sensors.areSwapped(), context);
        out.cycle(CycleRecord.of(context.machine().id(), judged, context.policyVersion(), acceptance));
        parts.proofs.cycle(raw, judged.residuals(), parts.watch.expectations(context.policy()), context, out::proof);
    }

    /** Something happened that no probe can see. */
    void happened(SiteRecord.Happened event, SiteMonitor.Output output) {
        to(output);
        new Happenings(parts, book, context, causes, water.isMeasured(), output).take(event);
    }

    /** The machine's row has ended. */
    void unregistered(long millis, SiteMonitor.Output output) {
        parts.proofs.end(millis, "The machine has left the register of this site.", context, output::proof);
        book.clearAll(millis, "The machine has left the register of this site.", output::finding);
    }

    /**
     * A minute has passed; returns whether anything has changed.
     *
     * @param gatewaySpeaksFor ticks for which its gateway has been heard without a break; 0 while it is not
     */
    boolean tick(long tick, long gatewaySpeaksFor, SiteMonitor.Output output) {
        if (!heard || gatewaySpeaksFor == 0) {
            return false;
        }
        to(output);
        long silent = Math.min(tick - heardAtTick, gatewaySpeaksFor);
        return Silence.tick(silent, parts.window.newestMillis(), parts.silentHours, context);
    }

    /** What the others on the site do; see {@link IceWatch#neighbours}. */
    void neighbours(Beside others) {
        parts.making.neighbours(others);
    }

    /** What its own ambient sensor says, where it has one. */
    OptionalDouble ambient() {
        return parts.ambient();
    }

    /** What the ambient sensors of the others in the same room say. */
    void ambientOfNeighbour(double celsius) {
        parts.sensors.ambientOfNeighbour(celsius, parts.window.newestMillis());
        if (!parts.making.isCompressorOff()) {
            parts.ambient().ifPresent(own -> room(own, celsius));
        }
    }

    void room(double own, double others) {
        tap.room(own, others);
        parts.watch.room(own, others);
    }

    /** What its cycles say of the water that no sensor tells. */
    WaterSigns waterSigns() {
        return parts.waterSigns;
    }

    long newestMillis() {
        return parts.window.newestMillis();
    }

    long cycleMillis() {
        return parts.making.cycleMillis();
    }

    long offSinceMillis() {
        return parts.offSinceMillis();
    }

    /** Cycles since its bin was last full. */
    int cyclesSinceFull() {
        return parts.making.cyclesSinceFull();
    }

    RestartWatch restarts() {
        return parts.restarts;
    }

    Map<Feature, OfKind> ofKind() {
        return parts.watch.ofKind(context.policy());
    }

    /** A day has passed; see {@link MachineWatch#kind}. */
    void kind(List<Map<Feature, OfKind>> others, SiteMonitor.Output output) {
        if (heard) {
            to(output);
            parts.watch.kind(others, context);
        }
    }

    /** An hour has passed. */
    void hour(SiteMonitor.Output output) {
        if (heard) {
            to(output);
            context.passed(parts.window.newestMillis());
            if (tap.hourBegan()) {
                parts.restarts.hour(parts.window.newestMillis(), context, causes);
                parts.care.passed(parts.window.newestMillis(), context, parts.watch.careSigns(context));
            }
            tap.hour(parts.window.newestMillis());
            parts.proofs.passed(
                    parts.window.newestMillis(), parts.watch.expectations(context.policy()), context, output::proof);
        }
    }

    /** What its readings came to elsewhere, in their place. */
    void play(CycleTap.Noted noted, SiteMonitor.Output output) {
        to(output);
        heard = true;
        noted.at(this);
    }

    void noteNewest() {
        tap.newest(parts.window.newestMillis());
    }

    void passedTo(long millis) {
        parts.window.passedTo(millis);
    }

    RuleContext context() {
        return context;
    }

    /** What readings change. */
    byte[] save(StateWriter state) {
        state.restart();
        StateVersion.MACHINE.write(state);
        state.flag(heard).whole(heardAtTick);
        book.save(state);
        parts.save(state);
        return state.toBytes();
    }

    /** Whether {@link #saveLearned} would write something else than the last time. */
    boolean hasLearned() {
        return isRowNew || parts.watch.hasChanged();
    }

    /** Its row, and what its cycles have taught. */
    byte[] saveLearned(StateWriter state) {
        isRowNew = false;
        state.restart();
        StateVersion.LEARNED.write(state);
        state.block(row);
        parts.saveLearned(state);
        return state.toBytes();
    }

    /**
     * @param bytes what {@link #save} wrote
     * @param apart what {@link #saveLearned} wrote; null where it was not apart yet
     * @throws IllegalStateException if the bytes are of no layout that is known, or one of the two is missing
     */
    static MachineMonitor restore(
            byte[] bytes, byte @Nullable [] apart, PolicyShelf policies, SiteWeather weather, SiteWater water) {
        StateReader in = new StateReader(bytes);
        int version = StateVersion.MACHINE.require(in);
        boolean isApart = version >= MachineParts.WITH_LEARNED_APART;
        StateReader learned = isApart ? MachineParts.learned(apart) : in;
        byte[] row = learned.block();
        Machine machine = ((SiteRecord.Registered) SiteLogCodec.decode(row)).machine();
        boolean heard = in.flag();
        long heardAtTick = in.whole();
        FindingBook book = FindingBook.restore(Subject.machine(machine.site(), machine.id()), in);
        RuleContext context = new RuleContext(machine, policies, weather, book);
        MachineParts parts = MachineParts.restore(in, learned, version, context.policy());
        parts.restored(machine, learned);
        MachineMonitor monitor = new MachineMonitor(row, context, book, parts, policies, weather, water);
        monitor.isRowNew = !isApart;
        monitor.heard = heard;
        monitor.heardAtTick = heardAtTick;
        return monitor;
    }
}
