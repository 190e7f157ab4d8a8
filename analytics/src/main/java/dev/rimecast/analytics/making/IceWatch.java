package dev.rimecast.analytics.making;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Whether a machine makes ice when it should, from its states: it runs without a result, its compressor does not start, it
 * rests or is off for far longer than it ever is, it says full or never full against what was made, it waits too long.
 *
 * <p>Judged at readings of the condenser, which every machine sends. Each is said once until the next finished cycle.
 */
public final class IceWatch {
    /** What keeps a compressor from running in a freeze. */
    public static final List<ProbableCause> COMPRESSOR_CAUSES = MissingIce.compressorCauses();

    private static final long GAP_MILLIS = 30 * 60_000L;
    private static final double RUNS_HOURS = 0.3;
    private static final long FRESH_MILLIS = 15 * 60_000L;
    private static final double WARM_AT_CALL_HOURS = 0.5;
    private static final double CALL_OF_SITE_FACTOR = 4;
    private static final double DAY_MILLIS = 86_400_000;
    private static final int WITH_COOLED_PLATE = 18;
    private static final long NONE = Long.MIN_VALUE;

    private NotMakingIce running = new NotMakingIce();
    private ColdFreeze cold = new ColdFreeze();
    private Pauses pauses = new Pauses();
    private EndlessRun run = new EndlessRun();
    private LongWaits waits = new LongWaits();
    private Stillness condenser = new Stillness();
    private Around around = new Around();
    private BinSignal bin = new BinSignal();
    private CooledPlate cooled = new CooledPlate();
    private Current current = new Current();
    private double plate = Double.NaN;
    private long plateAt = NONE;
    private long newest = NONE;
    private long firstSeen = NONE;
    private long cycleAt = NONE;
    private boolean called;
    private boolean saidNeverFull;

    /**
     * Takes the next reading.
     *
     * @param isAtRest whether the condenser is colder than it ever is when the machine runs
     * @param causes what is probably wrong with a machine that runs, asked for only when it is needed
     */
    public void read(
            Channel channel,
            double value,
            long millis,
            Optional<Phase> phase,
            long phaseSince,
            boolean isAtRest,
            RuleContext context,
            Supplier<List<ProbableCause>> causes) {
        if (newest == NONE || millis - newest > GAP_MILLIS) {
            firstSeen = firstSeen == NONE ? millis : firstSeen;
            run.unseenUntil(millis);
            bin.begin(millis);
        }
        newest = millis;
        running.read(channel, value, millis, phase, context, causes);
        if (channel == Channel.BIN_FULL) {
            bin.read(value != 0, millis);
        } else if (channel == Channel.EVAPORATOR_TEMPERATURE) {
            plate = value;
            plateAt = millis;
            if (phase.isEmpty()) {
                cooled.see(value, millis);
            }
        } else if (channel == Channel.SUPPLY_CURRENT
                && phase.isEmpty()
                && current.read(value, millis)
                && !bin.isFull()) {
            report(MissingIce.drawsLittle(current), millis, context);
        }
        if (channel == Channel.CONDENSER_TEMPERATURE) {
            condenser.see(value, millis);
        }
        boolean isStill = condenser.isStill() && !cooled.isCooled();
        pass(Doing.of(phase, bin, isAtRest || isStill, millis), phase.isPresent(), millis, context);
        if (channel == Channel.CONDENSER_TEMPERATURE) {
            if (plateAt != NONE && millis - plateAt <= FRESH_MILLIS) {
                pauses.temperatures(plate, value, millis);
                long allowed = context.policy().millis(PolicyNumber.COLD_CONDENSER_MINUTES);
                if (cold.condenser(phase, phaseSince, value, plate, isAtRest, millis, allowed)) {
                    compressorIsSilent(millis, context);
                }
            }
            judge(phase.isPresent(), millis, context, causes);
        }
    }

    private void pass(Doing doing, boolean phaseIsKnown, long millis, RuleContext context) {
        Doing before = pauses.current().doing();
        boolean isRunning = before == Doing.REDUCED || (before == Doing.MAKING && !phaseIsKnown);
        if (isRunning && doing == before && pauses.current().hoursOnEnd() >= RUNS_HOURS) {
            // Ice is made though no cycle can be seen whole.
            pauses.cycle(millis);
        }
        if ((before == Doing.WAITING || before == Doing.OFF) && doing == Doing.MAKING) {
            waits.ended(before == Doing.OFF ? 0 : pauses.current().hoursOnEnd(), context);
            if (waits.isAgainAndAgain(context) && !isSaid(context)) {
                waits.said();
                context.report(Condition.NOT_MAKING_ICE, millis, MissingIce.startDelay(context));
            }
        }
        pauses.pass(doing, millis);
        bin.pass(doing, !isSaid(context), millis);
        // A bin that is full again by itself shows that its sensor works, and that so much ice was taken.
        boolean isFull =
                run.pass(pauses.current(), saidNeverFull && around.wasWorkedOnSince(run.fullAtMillis()), millis);
        if (saidNeverFull && isFull) {
            saidNeverFull = false;
            context.clear(Condition.BIN_FULL_IMPLAUSIBLE, millis, "The bin is full again: the machine has rested.");
        }
    }

    private void judge(boolean phaseIsKnown, long millis, RuleContext context, Supplier<List<ProbableCause>> causes) {
        if (around.isClosed() || isSaid(context)) {
            return;
        }
        Doing doing = pauses.current().doing();
        if (doing == Doing.WAITING && waits.isEndless(pauses.current().hoursOnEnd(), context)) {
            context.report(Condition.NOT_MAKING_ICE, millis, MissingIce.endlessWait(pauses));
            return;
        }
        if (doing == Doing.RESTING && bin.isCalledTooLong(millis, context)) {
            boolean isAfterCleaning = around.isAfterCleaning(pauses.current().hours(), millis);
            Assessment stop = MissingIce.notStarting(pauses, phaseIsKnown, isAfterCleaning, current.power(millis));
            context.report(Condition.NOT_MAKING_ICE, millis, WentBefore.added(stop, millis, context, causes));
            return;
        }
        if (doing == Doing.MAKING
                && !phaseIsKnown
                && isWithoutHarvest()
                && !context.isOpen(Condition.SENSOR_IMPLAUSIBLE)) {
            report(MissingIce.withoutHarvest(cooled.frozenMillis()), millis, context);
            return;
        }
        Optional<Pauses.TooLong> why = pauses.tooLong(around, millis, context);
        if (why.isPresent() && why.get() == Pauses.TooLong.OFF && around.isOffTogether()) {
            pauses.special();
            if (around.speaksForAll()) {
                context.report(Condition.NOT_MAKING_ICE, millis, MissingIce.offTogether(pauses));
            }
        } else if (why.isPresent()) {
            report(why.get(), millis, context, causes);
        }
        boolean isLearned = millis - firstSeen >= context.policy().get(PolicyNumber.HABIT_DAYS) * DAY_MILLIS;
        if (isLearned && !around.isShared(millis) && !isSaid(context) && run.isTooLong(millis, context)) {
            saidNeverFull = true;
            context.report(Condition.BIN_FULL_IMPLAUSIBLE, millis, MissingIce.neverFull(run));
        }
    }

    private void report(Assessment missing, long millis, RuleContext context) {
        if (!around.isClosed() && !isSaid(context)) {
            context.report(Condition.NOT_MAKING_ICE, millis, missing);
        }
    }

    private boolean isWithoutHarvest() {
        return cooled.isCooled() && cooled.frozenMillis() >= MissingIce.FROZEN_MILLIS;
    }

    /** A stop that was said before gets its reason; otherwise it is said as soon as it is sure. */
    private void compressorIsSilent(long millis, RuleContext context) {
        if (context.isOpen(Condition.STOPPED_BY_PROTECTION)) {
            context.report(Condition.STOPPED_BY_PROTECTION, millis, MissingIce.compressor());
        } else if (cold.isSure()) {
            context.report(Condition.NOT_MAKING_ICE, millis, MissingIce.compressor());
        }
    }

    private void report(Pauses.TooLong why, long millis, RuleContext context, Supplier<List<ProbableCause>> causes) {
        Doing doing = pauses.current().doing();
        Condition condition = doing == Doing.FULL ? Condition.BIN_FULL_IMPLAUSIBLE : Condition.NOT_MAKING_ICE;
        boolean isAfterCleaning = around.isAfterCleaning(pauses.current().hours(), millis);
        Assessment missing = MissingIce.of(pauses, why, called, isAfterCleaning, current.power(millis));
        boolean isKnownWhy = doing == Doing.FULL || doing == Doing.OFF;
        context.report(condition, millis, isKnownWhy ? missing : WentBefore.added(missing, millis, context, causes));
    }

    private static boolean isSaid(RuleContext context) {
        return context.isOpen(Condition.NOT_MAKING_ICE)
                || context.isOpen(Condition.BIN_FULL_IMPLAUSIBLE)
                || context.isOpen(Condition.STOPPED_BY_PROTECTION)
                || context.isOpen(Condition.CLEANING_TOO_LONG);
    }

    /**
     * A cycle has ended. Without a phase one that could not be seen whole counts, too: the machine runs.
     *
     * @param isIceMade false where the harvests fail: the machine runs and is not at rest, but nothing falls into its bin
     */
    public void cycle(RawCycle raw, boolean phaseIsKnown, boolean isIceMade, RuleContext context) {
        if (!raw.complete() && phaseIsKnown) {
            return;
        }
        cold.cycle();
        current.cycle();
        bin.cycle(newest);
        pauses.cycle(newest);
        called = false;
        if (!isIceMade) {
            return;
        }
        long millis = raw.endMillis();
        cycleAt = millis;
        run.cycle((raw.endMillis() - raw.freezeStartMillis()) / 1000.0, millis);
        if (raw.complete()) {
            running.completed(millis, context);
            if (context.isOpen(Condition.BIN_FULL_IMPLAUSIBLE) && !saidNeverFull) {
                context.clear(Condition.BIN_FULL_IMPLAUSIBLE, millis, "The machine has made ice again.");
            }
        }
    }

    /** Whether the compressor rests, as far as is known. */
    public boolean isCompressorOff() {
        return switch (pauses.current().doing()) {
            case FULL, OFF, WAITING, STOPPED, RESTING -> true;
            case MAKING, REDUCED, CLEANING -> false;
        };
    }

    /** Whether the compressor does not seem to start in the freezes that the machine says. */
    public boolean isCompressorSilent() {
        return newest != NONE && (cold.isSeen(newest) || current.isNotStarting());
    }

    /**
     * People have called: a machine that rests while ice is missing does not rest because its bin is full. Calls come late,
     * so where the plate can tell that there is ice by now, that says nothing. A machine that is switched off as every night is
     * not told of for a call in the night.
     */
    public void called(
            String detail,
            boolean isOfThisMachine,
            long millis,
            RuleContext context,
            Supplier<List<ProbableCause>> causes) {
        boolean isAboutIce = detail.equals("no-ice") || detail.equals("little-ice");
        if (!isAboutIce || around.isClosedByWord()) {
            return;
        }
        pauses.special();
        run.begin();
        Doing doing = pauses.current().doing();
        boolean isEmpty = !pauses.isPlateTelling() || pauses.warmHours() >= WARM_AT_CALL_HOURS;
        boolean isResting = doing == Doing.OFF || ((doing == Doing.FULL || doing == Doing.RESTING) && isEmpty);
        double least =
                context.policy().get(PolicyNumber.CALL_MINUTES) / 60 * (isOfThisMachine ? 1 : CALL_OF_SITE_FACTOR);
        if (isResting && !pauses.isOffAsUsual() && pauses.current().hoursOnEnd() >= least) {
            called = true;
            boolean isOther = context.isOpen(Condition.STOPPED_BY_PROTECTION)
                    || context.isOpen(Condition.CLEANING_TOO_LONG)
                    || saidNeverFull;
            if (!isOther) {
                report(Pauses.TooLong.REST, Math.max(millis, newest), context, causes);
            }
        }
    }

    /** Somebody has worked on the machine. */
    public void worked(long millis) {
        running.worked(millis);
    }

    /** It is another machine from now on. */
    public void exchanged() {
        running = new NotMakingIce();
    }

    /** Something was done to the machine, or its site closed or opened. */
    public void happened(EventKind kind, long millis) {
        if (around.happened(kind, millis)) {
            pauses.special();
        } else if (kind == EventKind.CLOSED_FROM) {
            pauses.special();
            run.closed(millis);
        } else if (kind == EventKind.CLOSED_TO) {
            pauses.begin(millis);
            run.reopened(millis);
        }
    }

    /** What the neighbours on the site do, once an hour. */
    public void neighbours(Beside others) {
        around.neighbours(others, newest);
    }

    /** Cycles since the bin was last full. */
    public int cyclesSinceFull() {
        return run.cycles();
    }

    /** End of the last cycle, or {@link Long#MIN_VALUE}. */
    public long cycleMillis() {
        return cycleAt;
    }

    public void save(StateWriter out) {
        running.save(out);
        cold.save(out);
        pauses.save(out);
        run.save(out);
        waits.save(out);
        condenser.save(out);
        around.save(out);
        bin.save(out);
        out.measured(plate).time(plateAt).time(newest).time(firstSeen).time(cycleAt);
        out.flag(called).flag(saidNeverFull);
        cooled.save(out);
        current.save(out);
    }

    public static IceWatch restore(StateReader in) {
        IceWatch watch = new IceWatch();
        watch.running = NotMakingIce.restore(in);
        watch.cold = ColdFreeze.restore(in);
        watch.pauses = Pauses.restore(in);
        watch.run = EndlessRun.restore(in);
        watch.waits = LongWaits.restore(in);
        watch.condenser = Stillness.restore(in);
        watch.around = Around.restore(in);
        watch.bin = BinSignal.restore(in);
        watch.plate = in.measured();
        watch.plateAt = in.time();
        watch.newest = in.time();
        watch.firstSeen = in.time();
        watch.cycleAt = in.time();
        watch.called = in.flag();
        watch.saidNeverFull = in.flag();
        if (in.hasLayout(WITH_COOLED_PLATE)) {
            watch.cooled = CooledPlate.restore(in);
            watch.current = Current.restore(in);
        }
        return watch;
    }
}
