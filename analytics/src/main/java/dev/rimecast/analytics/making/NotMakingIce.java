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
 */
final class NotMakingIce {
    private static final double RUNNING_KELVIN = 5;
    private static final long GAP_MILLIS = 30 * 60_000L;
    private static final long NONE = Long.MIN_VALUE;

    private long calledSince = NONE;
    private long newest = NONE;
    private boolean binFull;
    private double ambient = Double.NaN;

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
        long allowed = context.policy(Condition.NOT_MAKING_ICE).millis(PolicyNumber.NOT_MAKING_ICE_MINUTES);
        boolean isSaid = context.isOpen(Condition.NOT_MAKING_ICE) || context.isOpen(Condition.STOPPED_BY_PROTECTION);
        if (millis - calledSince >= allowed && !isSaid) {
            String text = String.format(
                    Locale.ROOT,
                    "The machine has run for %.0f minutes without finishing a cycle.",
                    (millis - calledSince) / 60_000.0);
            context.report(
                    Condition.NOT_MAKING_ICE,
                    millis,
                    Assessment.of(Stage.STOPPED, Priority.URGENT, text, PolicyNumber.NOT_MAKING_ICE_MINUTES)
                            .causes(causes.get()));
        }
    }

    /** A complete cycle. */
    void completed(long millis, RuleContext context) {
        calledSince = NONE;
        if (context.isOpen(Condition.NOT_MAKING_ICE)) {
            context.clear(Condition.NOT_MAKING_ICE, millis, "The machine has finished a cycle again.");
        }
    }

    void save(StateWriter out) {
        out.time(calledSince).time(newest).flag(binFull).real(ambient);
    }

    static NotMakingIce restore(StateReader in) {
        NotMakingIce rule = new NotMakingIce();
        rule.calledSince = in.time();
        rule.newest = in.time();
        rule.binFull = in.flag();
        rule.ambient = in.real();
        return rule;
    }
}
