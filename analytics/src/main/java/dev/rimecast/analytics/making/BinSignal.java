package dev.rimecast.analytics.making;

import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * What the channel of the bin says of a machine that does not say its phase: full, or called for, or nothing since the
 * controller has no power while the probes are still read.
 *
 * <p>Silence says something only where the channel was fresh at the end of every cycle: others send it when it changes. A rest
 * though the bin is not full is too long only against the machine's own habit: some thermostats are not told of, and some
 * controllers go on sending it when the machine is switched off for the night.
 */
final class BinSignal {
    private static final double FRESH_SECONDS = 600;
    private static final double SILENT_SECONDS = 1200;
    private static final int FEWEST_CYCLES = 6;
    private static final double KEEP = 0.95;
    private static final double STEP_HOURS = 0.5;
    private static final double MILLIS = 1000;
    private static final double HOUR_MILLIS = 3_600_000;
    private static final double DAY_MILLIS = 86_400_000;
    private static final long NONE = Long.MIN_VALUE;

    private boolean full;
    private long at = NONE;
    private int cycles;
    /** The oldest that it lately was at the end of a cycle, s. */
    private float age;
    /** When it was first known to be sent regularly. */
    private long regularSince = NONE;

    private long calledSince = NONE;
    private Habit usual = new Habit();

    void read(boolean isFull, long millis) {
        full = isFull;
        at = millis;
    }

    /** A cycle has ended. */
    void cycle(long millis) {
        if (at != NONE) {
            cycles = Math.min(FEWEST_CYCLES, cycles + 1);
            age = (float) Math.max((millis - at) / MILLIS, KEEP * age);
            if (!isRegular()) {
                regularSince = NONE;
            } else if (regularSince == NONE) {
                regularSince = millis;
            }
        }
    }

    private boolean isRegular() {
        return cycles >= FEWEST_CYCLES && age <= FRESH_SECONDS;
    }

    boolean isFull() {
        return full;
    }

    /** Whether it is sent regularly, and says that the bin is not full. */
    boolean isCalling() {
        return isRegular() && !full;
    }

    /** Whether it has stopped while the probes go on: the controller has no power. */
    boolean isSilent(long millis) {
        return isRegular() && (millis - at) / MILLIS > SILENT_SECONDS;
    }

    /**
     * Time goes by.
     *
     * @param isHabit whether nothing is known to be wrong with the machine
     */
    void pass(Doing doing, boolean isHabit, long millis) {
        boolean isCalled = doing == Doing.RESTING && isCalling();
        if (isCalled && calledSince == NONE) {
            calledSince = millis;
        } else if (!isCalled && calledSince != NONE) {
            if (isHabit) {
                usual.see(hours(millis) / STEP_HOURS, millis);
            }
            calledSince = NONE;
        }
    }

    /** After a gap nobody knows what went on: silence and what is called for are counted anew. */
    void begin(long millis) {
        calledSince = NONE;
        at = at == NONE ? NONE : millis;
    }

    private double hours(long millis) {
        return (millis - calledSince) / HOUR_MILLIS;
    }

    /** Whether it has called for ice for longer than the machine ever rests through. */
    boolean isCalledTooLong(long millis, RuleContext context) {
        GroupPolicy policy = context.policy();
        if (calledSince == NONE || millis - regularSince < policy.get(PolicyNumber.HABIT_DAYS) * DAY_MILLIS) {
            return false;
        }
        double habit = usual.largest() * STEP_HOURS * policy.get(PolicyNumber.HABIT_FACTOR);
        return hours(millis) >= Math.max(policy.get(PolicyNumber.CALLED_HOURS), habit);
    }

    void save(StateWriter out) {
        out.flag(full).time(at).u8(cycles).real32(age).time(regularSince).time(calledSince);
        usual.save(out);
    }

    static BinSignal restore(StateReader in) {
        BinSignal signal = new BinSignal();
        signal.full = in.flag();
        signal.at = in.time();
        signal.cycles = in.u8();
        signal.age = in.real32();
        signal.regularSince = in.time();
        signal.calledSince = in.time();
        signal.usual = Habit.restore(in);
        return signal;
    }
}
