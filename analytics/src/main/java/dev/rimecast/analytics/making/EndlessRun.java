package dev.rimecast.analytics.making;

import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.machine.Machine;
import java.util.Set;

/**
 * Cycles since the bin was last full, against the most that there ever were between two full bins. Cycles and not hours:
 * a machine that is slow makes less ice, and then it is no wonder. Without a bin signal, a rest of
 * {@value #REST_HOURS} h is a full bin.
 */
final class EndlessRun {
    private static final double REST_HOURS = 0.25;
    private static final int STEP_CYCLES = 2;
    private static final double LENGTH_GAIN = 0.02;
    private static final double DAY_SECONDS = 86_400;
    /** What makes less ice of a cycle, or of an hour. */
    private static final Set<Condition> MAKES_LESS = Set.of(
            Condition.SLOW_PULL_DOWN,
            Condition.RISING_CONDENSING_TEMPERATURE,
            Condition.HIGH_CONDENSING_TEMPERATURE,
            Condition.LONG_FREEZE,
            Condition.SHORT_FREEZE,
            Condition.LONG_HARVEST,
            Condition.INCOMPLETE_HARVEST,
            Condition.WATER_USE_HIGH,
            Condition.LOW_OUTPUT,
            Condition.BELOW_ITS_KIND,
            Condition.STOPPED_BY_PROTECTION);

    private Habit usual = new Habit();
    private int cycles;
    private boolean wasFull;
    private float cycleSeconds;

    /** @param pause what the machine does now */
    void pass(Pause pause, boolean isSpecial, long millis) {
        boolean isFull =
                pause.doing() == Doing.FULL || (pause.doing() == Doing.RESTING && pause.hoursOnEnd() >= REST_HOURS);
        if (isFull && cycles > 0) {
            if (!isSpecial && wasFull) {
                usual.see(cycles / (double) STEP_CYCLES, millis);
            }
            cycles = 0;
        }
        wasFull |= isFull;
    }

    void cycle(double seconds) {
        cycles++;
        cycleSeconds += (float) ((seconds - cycleSeconds) * (cycleSeconds == 0 ? 1 : LENGTH_GAIN));
    }

    /** Begins anew: cycles were missed. */
    void begin() {
        cycles = 0;
        wasFull = false;
    }

    int cycles() {
        return cycles;
    }

    int usualCycles() {
        return usual.largest() * STEP_CYCLES;
    }

    boolean isTooLong(RuleContext context) {
        if (usualCycles() == 0 || !wasFull || MAKES_LESS.stream().anyMatch(context::isOpen)) {
            return false;
        }
        double factor = context.policy().get(PolicyNumber.RUN_FACTOR);
        double bins = context.policy().get(PolicyNumber.RUN_BINS);
        double allowed = Math.max(factor * usualCycles(), usualCycles() + bins * cyclesOfBin(context.machine()));
        return cycles > allowed;
    }

    /** How many batches fill the bin. */
    private double cyclesOfBin(Machine machine) {
        return machine.binKg() / (machine.ratedKgPerDay() * cycleSeconds / DAY_SECONDS);
    }

    void save(StateWriter out) {
        usual.save(out);
        out.whole(cycles).flag(wasFull).real32(cycleSeconds);
    }

    static EndlessRun restore(StateReader in) {
        EndlessRun run = new EndlessRun();
        run.usual = Habit.restore(in);
        run.cycles = in.wholeInt();
        run.wasFull = in.flag();
        run.cycleSeconds = in.real32();
        return run;
    }
}
