package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.care.CareWatch;
import dev.rimecast.analytics.cycle.CycleTracker;
import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.expect.SiteWeather;
import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.finding.Subject;
import dev.rimecast.analytics.limits.CondensingLimit;
import dev.rimecast.analytics.limits.PlaceLimit;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.limits.StateWatch;
import dev.rimecast.analytics.making.IceWatch;
import dev.rimecast.analytics.making.RestartWatch;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.policy.PolicyShelf;
import dev.rimecast.analytics.proof.ProofWatch;
import dev.rimecast.analytics.question.Answers;
import dev.rimecast.analytics.sensor.SensorCheck;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateVersion;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.analytics.watch.JudgedCycle;
import dev.rimecast.analytics.watch.MachineWatch;
import dev.rimecast.analytics.watch.Work;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;

/**
 * What is known of one machine, and what is decided about it: readings are put in order, become cycles, and cycles are
 * judged; limits are judged as readings arrive. A plain object: one thread, no clock.
 */
final class MachineMonitor implements ReorderWindow.Sink, CycleTracker.Sink {
    private static final SiteMonitor.Output NOWHERE = new SiteMonitor.Output() {
        @Override
        public void cycle(dev.rimecast.telemetry.cycle.Cycle cycle) {}

        @Override
        public void finding(dev.rimecast.telemetry.finding.Finding finding) {}

        @Override
        public void proof(dev.rimecast.telemetry.proof.Proof proof) {}
    };

    /** Whether a condenser is clean is not judged yet: then its filter's interval is not stretched. */
    private static final BooleanSupplier NOT_KNOWN = () -> false;

    /** From this layout on a machine's state has what its proofs keep. */
    private static final int WITH_PROOFS = 8;

    private final PolicyShelf policies;
    private final SiteWeather weather;
    private byte[] row;
    private RuleContext context;
    private final FindingBook book;
    private ReorderWindow window = new ReorderWindow();
    private CycleTracker tracker;
    private Place place = new Place();
    private SensorCheck sensors = new SensorCheck();
    private PlaceLimit air = PlaceLimit.of(Channel.AMBIENT_TEMPERATURE);
    private PlaceLimit water = PlaceLimit.of(Channel.WATER_TEMPERATURE);
    private CondensingLimit condensing = new CondensingLimit();
    private StateWatch states = new StateWatch();
    private IceWatch making = new IceWatch();
    private RestartWatch restarts = new RestartWatch();
    private CareWatch care = new CareWatch();
    private MachineWatch watch = new MachineWatch();
    private ProofWatch proofs = new ProofWatch();
    /** The site's count of ticks when the machine was last heard. */
    private long heardAtTick;

    private boolean heard;
    /** Whether the site has noted that its state has changed since it was last saved. */
    private boolean touched;

    private SiteMonitor.Output out = NOWHERE;
    private final Supplier<List<ProbableCause>> causes = this::causes;
    private final Supplier<List<ProbableCause>> causesOfHeat = () -> watch.causesOfHeat(context);

    private MachineMonitor(byte[] row, Machine machine, PolicyShelf policies, SiteWeather weather, FindingBook book) {
        this.row = row;
        this.policies = policies;
        this.weather = weather;
        this.book = book;
        this.context = new RuleContext(machine, policies, weather, book);
        this.tracker = new CycleTracker(context.policy().millis(PolicyNumber.REST_MINUTES));
    }

    static MachineMonitor fresh(Machine machine, PolicyShelf policies, SiteWeather weather) {
        return new MachineMonitor(
                rowOf(machine),
                machine,
                policies,
                weather,
                new FindingBook(Subject.machine(machine.site(), machine.id())));
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

    void registered(Machine machine) {
        row = rowOf(machine);
        renew(machine);
    }

    /** The policy in force is another one. */
    void policyChanged() {
        renew(context.machine());
    }

    Admission accept(Reading reading, long tick, SiteMonitor.Output output) {
        to(output);
        heardAtTick = tick;
        heard = true;
        Silence.heard(reading.timeMillis(), context);
        double value =
                reading.channel() == Channel.CONTROLLER_STATUS ? reading.text().hashCode() : reading.value();
        Admission admission = window.offer(reading.channel(), reading.timeMillis(), value, this);
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
                proofs.finding(finding, context, output::proof);
            });
        }
    }

    private void renew(Machine machine) {
        context = new RuleContext(machine, policies, weather, book);
        out = NOWHERE;
    }

    private void arrived(Channel channel, double value, long millis) {
        if (channel == Channel.CONDENSER_TEMPERATURE
                && value <= context.policy().get(PolicyNumber.CONDENSER_MAX_CELSIUS)) {
            condensing.arrived(value, millis, context, causesOfHeat);
        } else if (channel == Channel.DRAIN_LEVEL_TIME) {
            watch.drainLevel(millis, value, context);
        }
    }

    @Override
    public void ordered(Channel channel, long millis, double value) {
        if (!sensors.read(channel, value, making.isCompressorOff(), millis, context)) {
            return;
        }
        if (context.machine().kind() == Machine.Kind.CONTINUOUS && !isOfDrain(channel)) {
            return;
        }
        care.heard(millis);
        if (channel == Channel.PHASE) {
            restarts.phase(Phase.ofOrdinal((int) value), millis);
        }
        tracker.accept(channel, millis, value, this);
        ofPlace(channel, value, millis);
        Optional<Phase> phase = tracker.phase(millis);
        if (channel == Channel.CONDENSER_TEMPERATURE && place.isAtRest()) {
            tracker.compressorIsOff(millis);
        }
        if (!sensors.areSwapped()) {
            watch.passed(tracker.pullingDownSinceMillis(), millis, context);
        }
        states.read(phase, tracker.phaseSinceMillis(), millis, context, causes);
        making.read(channel, value, millis, phase, tracker.phaseSinceMillis(), place.isAtRest(), context, causes);
    }

    private static boolean isOfDrain(Channel channel) {
        return channel == Channel.DRAIN_LEVEL
                || channel == Channel.DRAIN_LEVEL_TIME
                || channel == Channel.DRAIN_RUN_TIME;
    }

    private void ofPlace(Channel channel, double value, long millis) {
        if (channel == Channel.AMBIENT_TEMPERATURE) {
            air.read(value, millis, context);
        } else if (channel == Channel.WATER_TEMPERATURE) {
            water.read(value, millis, context);
        } else if (channel == Channel.CONDENSER_TEMPERATURE) {
            ofCondenser(value, millis);
        }
    }

    /** Outdoors or in water, a condenser shows no room. */
    private void ofCondenser(double celsius, long millis) {
        boolean isRoom = place.condenser(celsius, millis);
        if (isRoom
                && context.machine().condenserCooling() == Machine.Cooling.AIR
                && ambient().isEmpty()) {
            air.readAtRest(celsius, millis, context);
        }
    }

    @Override
    public void drainLevel(long endMillis, double seconds) {
        // Lengths that the machine timed itself were judged when they arrived.
        if (!tracker.hasTimedLevels()) {
            watch.drainLevel(endMillis, seconds, context);
        }
    }

    @Override
    public void cycle(RawCycle raw) {
        Conditions measured = place.during(raw, context.policy());
        JudgedCycle judged = watch.cycle(raw, measured, context);
        if (raw.complete()) {
            states.completed(raw.endMillis(), context);
        }
        care.cycle(raw.freezeStartMillis(), raw.endMillis(), context);
        making.cycle(raw, tracker.phase(raw.endMillis()).isPresent(), context);
        out.cycle(CycleRecord.of(context.machine().id(), judged, context.policyVersion()));
        proofs.cycle(raw, judged.residuals(), watch.expectations(context.policy()), context, out::proof);
    }

    private List<ProbableCause> causes() {
        if (making.isCompressorSilent()) {
            return IceWatch.COMPRESSOR_CAUSES;
        }
        return condensing.isNearLately(window.newestMillis()) ? watch.causesOfHeat(context) : watch.causes(context);
    }

    /** Something happened that no probe can see. */
    void happened(SiteRecord.Happened event, SiteMonitor.Output output) {
        to(output);
        EventKind kind = event.kind();
        String detail = event.detail();
        long millis = event.at().toEpochMilli();
        if (kind == EventKind.EXCHANGED || kind == EventKind.MOVED) {
            proofs.end(millis, "The machine was " + kind.code() + ".", context, output::proof);
            book.clearAll(millis, "The machine was " + kind.code() + ".", output::finding);
        }
        if (kind == EventKind.EXCHANGED) {
            watch = new MachineWatch();
        }
        worked(kind, detail, millis, output);
        if (Work.isWork(kind)) {
            states.worked();
            book.worked();
        }
        if (kind == EventKind.SITE_ANSWER && event.machine().isPresent()) {
            answered(event, output);
        }
        if (kind == EventKind.SENSOR_REPLACED || kind == EventKind.MOVED || kind == EventKind.EXCHANGED) {
            sensors.replaced();
        }
        if (kind == EventKind.CALL) {
            making.called(detail, event.machine().isPresent(), millis, context, causes);
        }
        making.happened(kind, millis);
        restarts.happened(kind, millis);
        care.happened(kind, millis, context);
    }

    /** What was wrong is noted before anything is learned anew. */
    private void worked(EventKind kind, String detail, long millis, SiteMonitor.Output output) {
        boolean isToProve = Work.isWork(kind) && kind != EventKind.EXCHANGED && kind != EventKind.MOVED;
        if (isToProve) {
            Optional<Cause> found = kind == EventKind.VISIT ? Cause.ofCode(detail) : Optional.empty();
            proofs.worked(
                    new ProofWatch.Job(millis, found, Work.isOfEngineer(kind)),
                    window.newestMillis(),
                    condition -> watch.complaint(condition, context),
                    context,
                    output::proof);
        }
        watch.work(kind, detail, millis, (feature, by) -> isToProve && proofs.touched(feature, by), context.policy());
    }

    private void answered(SiteRecord.Happened event, SiteMonitor.Output output) {
        long millis = event.at().toEpochMilli();
        book.answered(event.detail(), millis, event.by(), output::finding);
        if (Answers.putsRight(event.detail())) {
            watch.putRight(millis, context);
        }
    }

    /** The machine's row has ended. */
    void unregistered(long millis, SiteMonitor.Output output) {
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
        return Silence.tick(Math.min(tick - heardAtTick, gatewaySpeaksFor), window.newestMillis(), context);
    }

    /** What the others on the site do; see {@link IceWatch#neighbours}. */
    void neighbours(boolean isQuiet, boolean isBusy, boolean isOneOut) {
        making.neighbours(isQuiet, isBusy, isOneOut);
    }

    /** What its own ambient sensor says, where it has one. */
    OptionalDouble ambient() {
        return sensors.restShift().ownAmbient(window.newestMillis());
    }

    /** What the ambient sensors of the others in the same room say. */
    void ambientOfNeighbour(double celsius) {
        sensors.ambientOfNeighbour(celsius, window.newestMillis());
        ambient().ifPresent(own -> watch.room(own, celsius));
    }

    /** Newest reading, or {@link Long#MIN_VALUE}. */
    long newestMillis() {
        return window.newestMillis();
    }

    /** End of the last cycle, or {@link Long#MIN_VALUE}. */
    long cycleMillis() {
        return making.cycleMillis();
    }

    /** Its restarts, to be held against those of the others on the site. */
    RestartWatch restarts() {
        return restarts;
    }

    /** An hour has passed. */
    void hour(SiteMonitor.Output output) {
        if (heard) {
            to(output);
            restarts.hour(window.newestMillis(), context, causes);
            care.passed(window.newestMillis(), context, NOT_KNOWN);
            proofs.passed(window.newestMillis(), watch.expectations(context.policy()), context, output::proof);
        }
    }

    byte[] save(StateWriter state) {
        state.restart();
        StateVersion.MACHINE.write(state);
        state.block(row).flag(heard).whole(heardAtTick);
        book.save(state);
        window.save(state);
        tracker.save(state);
        place.save(state);
        sensors.save(state);
        air.save(state);
        water.save(state);
        condensing.save(state);
        states.save(state);
        making.save(state);
        restarts.save(state);
        care.save(state);
        watch.save(state);
        proofs.save(state);
        return state.toBytes();
    }

    static MachineMonitor restore(byte[] bytes, PolicyShelf policies, SiteWeather weather) {
        StateReader in = new StateReader(bytes);
        int version = StateVersion.MACHINE.require(in);
        byte[] row = in.block();
        Machine machine = ((SiteRecord.Registered) SiteLogCodec.decode(row)).machine();
        boolean heard = in.flag();
        long heardAtTick = in.whole();
        FindingBook book = FindingBook.restore(Subject.machine(machine.site(), machine.id()), in);
        MachineMonitor monitor = new MachineMonitor(row, machine, policies, weather, book);
        monitor.heard = heard;
        monitor.heardAtTick = heardAtTick;
        monitor.window = ReorderWindow.restore(in);
        monitor.tracker = CycleTracker.restore(in, monitor.context.policy().millis(PolicyNumber.REST_MINUTES));
        monitor.place = Place.restore(in);
        monitor.sensors = SensorCheck.restore(in);
        monitor.air = PlaceLimit.restore(Channel.AMBIENT_TEMPERATURE, in);
        monitor.water = PlaceLimit.restore(Channel.WATER_TEMPERATURE, in);
        monitor.condensing = CondensingLimit.restore(in);
        monitor.states = StateWatch.restore(in);
        monitor.making = IceWatch.restore(in);
        monitor.restarts = RestartWatch.restore(in);
        monitor.care = CareWatch.restore(in);
        monitor.watch = MachineWatch.restore(in, monitor.context.policy());
        if (version >= WITH_PROOFS) {
            monitor.proofs = ProofWatch.restore(in);
        }
        return monitor;
    }
}
