package dev.rimecast.analytics.making;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Powered and called for, but no cycle completes.
 *
 * <p>Called for: by the phase, filling, freezing or harvesting; without a phase, a condenser well above the room, which only
 * a running compressor keeps so. A full bin, a rest, a cleaning, a wait, a switched-off machine and a gap in the readings all
 * begin the count anew, so a machine that idles is never "not making ice". Where neither phase nor ambient is known, nothing
 * is judged.
 *
 * <p>Cycles of a machine that sends little can be missed. Each time that one is seen again after it was told, though nobody has worked on
 * the machine, it may run twice as long; {@value #FORGOTTEN_DAYS} days later half of that.
 */
final class NotMakingIce {
    private static final double RUNNING_KELVIN = 5;
    private static final long GAP_MILLIS = 30 * 60_000L;
    private static final int MOST_DOUBLED = 4;
    private static final int FORGOTTEN_DAYS = 45;
    private static final long DAY_MILLIS = 86_400_000L;
    private static final int WITH_DOUBLED = 17;
    private static final long NONE = Long.MIN_VALUE;

    private long calledSince = NONE;
    private long newest = NONE;
    private boolean binFull;
    private double ambient = Double.NaN;
    private boolean told;
    private int doubled;
    private long doubledAt = NONE;

    /** @param causes what is probably wrong, asked for only when it is needed */
    void read(
            Channel channel,
            double value,
            long millis,
            Optional<Phase> phase,
            RuleContext context,
            Supplier<List<ProbableCause>> causes) {
        if (newest != NONE && millis - newest > GAP_MILLIS) {
            calledSince = NONE;
        }
        newest = millis;
        switch (channel) {
            case BIN_FULL -> binFull = value != 0;
            case AMBIENT_TEMPERATURE -> ambient = value;
            case CONDENSER_TEMPERATURE -> judge(isCalled(value, phase), millis, context, causes);
            default -> {}
        }
    }

    private boolean isCalled(double condenser, Optional<Phase> phase) {
        if (binFull) {
            return false;
        }
        if (phase.isEmpty()) {
            return condenser - ambient >= RUNNING_KELVIN;
        }
        return switch (phase.get()) {
            case FILL, FREEZE, HARVEST -> true;
            case WAIT, IDLE, CLEAN, STOPPED, REDUCED, OFF -> false;
        };
    }

    private void judge(boolean isCalled, long millis, RuleContext context, Supplier<List<ProbableCause>> causes) {
        if (!isCalled) {
            calledSince = NONE;
            return;
        }
        if (calledSince == NONE) {
            calledSince = millis;
        }
        long allowed =
                context.policy(Condition.NOT_MAKING_ICE).millis(PolicyNumber.NOT_MAKING_ICE_MINUTES) << doubled(millis);
        boolean isSaid = context.isOpen(Condition.NOT_MAKING_ICE) || context.isOpen(Condition.STOPPED_BY_PROTECTION);
        if (millis - calledSince >= allowed && !isSaid) {
            String text = String.format(
                    Locale.ROOT,
                    "The machine has run for %.0f minutes without finishing a cycle.",
                    (millis - calledSince) / 60_000.0);
            List<ProbableCause> wrong = causes.get();
            context.report(
                    Condition.NOT_MAKING_ICE,
                    millis,
                    Assessment.of(Stage.STOPPED, Priority.URGENT, text, PolicyNumber.NOT_MAKING_ICE_MINUTES)
                            .causes(wrong.isEmpty() ? MissingIce.causesOfNoEnd(text) : wrong));
            told = true;
        }
    }

    private int doubled(long millis) {
        if (doubled > 0 && millis - doubledAt > FORGOTTEN_DAYS * DAY_MILLIS) {
            doubled--;
            doubledAt = millis;
        }
        return doubled;
    }

    /** Somebody has worked on the machine; if it was told of before its next cycle, it did not come back by itself. */
    void worked(long millis) {
        told = false;
        if (doubled > 0 && doubledAt >= millis) {
            doubled--;
        }
    }

    /** A complete cycle. */
    void completed(long millis, RuleContext context) {
        calledSince = NONE;
        if (told) {
            told = false;
            doubled = Math.min(MOST_DOUBLED, doubled + 1);
            doubledAt = millis;
        }
        if (context.isOpen(Condition.NOT_MAKING_ICE)) {
            context.clear(Condition.NOT_MAKING_ICE, millis, "The machine has finished a cycle again.");
        }
    }

    void save(StateWriter out) {
        out.time(calledSince).time(newest).flag(binFull).real(ambient);
        out.flag(told).u8(doubled);
        if (doubled > 0) {
            out.time(doubledAt);
        }
    }

    static NotMakingIce restore(StateReader in) {
        NotMakingIce rule = new NotMakingIce();
        rule.calledSince = in.time();
        rule.newest = in.time();
        rule.binFull = in.flag();
        rule.ambient = in.real();
        if (in.hasLayout(WITH_DOUBLED)) {
            rule.told = in.flag();
            rule.doubled = in.u8();
            rule.doubledAt = rule.doubled > 0 ? in.time() : NONE;
        }
        return rule;
    }
}
