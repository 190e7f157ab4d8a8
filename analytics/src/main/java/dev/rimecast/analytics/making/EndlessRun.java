package dev.rimecast.analytics.making;

import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.machine.Machine;
import java.util.List;

/**
 * Cycles since the bin was last full: against the most that there ever were between two full bins, and against what is
 * usually used in that time, which together must be beyond what the bin can hold. Cycles and not hours: a machine that is
 * slow makes less ice, and then it is no wonder. Without a bin signal, a rest of {@value #REST_HOURS} h is a full bin.
 *
 * <p>What is used is what was made: cycles a day, with exponential forgetting over {@value #MEMORY_DAYS} days, as it was when
 * the bin was last full.
 */
final class EndlessRun {
    private static final double REST_HOURS = 0.25;
    private static final int STEP_CYCLES = 2;
    private static final double LENGTH_GAIN = 0.02;
    /** Ice that has backed up to the plate stands in the way of the next harvest. */
    private static final List<Condition> BACKS_UP = List.of(Condition.LONG_HARVEST, Condition.INCOMPLETE_HARVEST);

    /** One week's use is another than the last one's. */
    private static final double USE_VARIES = 1.2;

    private static final double SHARE_WHEN_BACKED_UP = 0.5;
    private static final double DAY_SECONDS = 86_400;
    /** What makes less ice of a cycle, or of an hour. */
    private static final List<Condition> MAKES_LESS = List.of(
            Condition.SLOW_PULL_DOWN,
            Condition.RISING_CONDENSING_TEMPERATURE,
            Condition.HIGH_CONDENSING_TEMPERATURE,
            Condition.LONG_FREEZE,
            Condition.SHORT_FREEZE,
            Condition.WATER_USE_HIGH,
            Condition.LOW_OUTPUT,
            Condition.BELOW_ITS_KIND,
            Condition.STOPPED_BY_PROTECTION);

    private static final double MEMORY_DAYS = 14;
    private static final double DAY_MILLIS = 86_400_000;
    private static final long NONE = Long.MIN_VALUE;

    private Habit usual = new Habit();
    private int cycles;
    private long fullAt = NONE;
    private long firstAt = NONE;
    private long cycleAt = NONE;
    private long closedAt = NONE;
    private double perDay;
    private double usedPerDay;
    /** When the bin was full, where {@code usedPerDay} is not computed yet: until then it may change with every reading. */
    private long useOpenAt = NONE;

    /** Days from which that is known. */
    private double knownDays;

    private boolean wasFull;
    private float cycleSeconds;

    /**
     * @param pause what the machine does now
     * @return whether its bin is full now
     */
    boolean pass(Pause pause, boolean isSpecial, long millis) {
        boolean isFull =
                pause.doing() == Doing.FULL || (pause.doing() == Doing.RESTING && pause.hoursOnEnd() >= REST_HOURS);
        if (isFull) {
            if (cycles > 0 && !isSpecial && wasFull) {
                usual.see(cycles / (double) STEP_CYCLES, millis);
            }
            cycles = 0;
            wasFull = true;
            fullAt = millis;
            useOpenAt = millis;
            knownDays = firstAt == NONE ? 0 : (millis - firstAt) / DAY_MILLIS;
        }
        return isFull;
    }

    private void settleUse() {
        if (useOpenAt != NONE) {
            usedPerDay = perDay(useOpenAt);
            useOpenAt = NONE;
        }
    }

    /** Cycles a day up to now: the forgotten time before the first cycle is taken out. */
    private double perDay(long millis) {
        if (cycleAt == NONE) {
            return 0;
        }
        double known = 1 - StrictMath.exp(-(millis - firstAt) / DAY_MILLIS / MEMORY_DAYS);
        return known <= 0 ? 0 : perDay * StrictMath.exp(-(millis - cycleAt) / DAY_MILLIS / MEMORY_DAYS) / known;
    }

    void cycle(double seconds, long millis) {
        settleUse();
        cycles++;
        firstAt = firstAt == NONE ? millis : firstAt;
        double kept = cycleAt == NONE ? 0 : StrictMath.exp(-(millis - cycleAt) / DAY_MILLIS / MEMORY_DAYS);
        perDay = perDay * kept + 1 / MEMORY_DAYS;
        cycleAt = millis;
        cycleSeconds += (float) ((seconds - cycleSeconds) * (cycleSeconds == 0 ? 1 : LENGTH_GAIN));
    }

    /** Nothing was used in between: the site was closed up to now. */
    void reopened(long millis) {
        settleUse();
        if (cycleAt != NONE && closedAt != NONE) {
            long forgotten = millis - Math.max(closedAt, cycleAt);
            cycleAt += forgotten;
            firstAt += forgotten;
        }
        closedAt = NONE;
        begin();
    }

    void closed(long millis) {
        closedAt = millis;
    }

    /**
     * Nothing was heard until now. The bin may have been full as late as this, so it is taken to have been: what is made from here on must be
     * too much by itself. What was used a day is known from before.
     */
    void unseenUntil(long millis) {
        settleUse();
        cycles = 0;
        fullAt = wasFull ? millis : fullAt;
    }

    /** Begins anew: nobody knows any more when it was full. */
    void begin() {
        cycles = 0;
        wasFull = false;
    }

    /** When the bin was last full; long ago where that is not known. */
    long fullAtMillis() {
        return fullAt;
    }

    int cycles() {
        return cycles;
    }

    int usualCycles() {
        return usual.largest() * STEP_CYCLES;
    }

    boolean isTooLong(long millis, RuleContext context) {
        if (usualCycles() == 0 || !wasFull || context.isAnyOpen(MAKES_LESS)) {
            return false;
        }
        if (knownDays < context.policy().get(PolicyNumber.HABIT_DAYS)) {
            return false;
        }
        double share = context.isAnyOpen(BACKS_UP) ? SHARE_WHEN_BACKED_UP : 1;
        double factor = 1 + share * (context.policy().get(PolicyNumber.RUN_FACTOR) - 1);
        double bins = share * context.policy().get(PolicyNumber.RUN_BINS);
        if (cycles <= factor * usualCycles()) {
            return false;
        }
        settleUse();
        double used = USE_VARIES * usedPerDay * (millis - fullAt) / DAY_MILLIS;
        return cycles - used > bins * cyclesOfBin(context.machine());
    }

    /** How many batches fill the bin. */
    private double cyclesOfBin(Machine machine) {
        return machine.binKg() / (machine.ratedKgPerDay() * cycleSeconds / DAY_SECONDS);
    }

    void save(StateWriter out) {
        settleUse();
        usual.save(out);
        out.whole(cycles)
                .flag(wasFull)
                .real32(cycleSeconds)
                .time(fullAt)
                .time(firstAt)
                .time(cycleAt)
                .time(closedAt);
        out.real(perDay).real(usedPerDay).real(knownDays);
    }

    static EndlessRun restore(StateReader in) {
        EndlessRun run = new EndlessRun();
        run.usual = Habit.restore(in);
        run.cycles = in.wholeInt();
        run.wasFull = in.flag();
        run.cycleSeconds = in.real32();
        run.fullAt = in.time();
        run.firstAt = in.time();
        run.cycleAt = in.time();
        run.closedAt = in.time();
        run.perDay = in.real();
        run.usedPerDay = in.real();
        run.knownDays = in.real();
        return run;
    }
}
