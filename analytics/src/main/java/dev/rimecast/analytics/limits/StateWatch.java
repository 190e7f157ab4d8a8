package dev.rimecast.analytics.limits;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Phase;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * States that last too long, by the phase that the machine says: stopped by its own protection, or left in cleaning. Waiting
 * after power-on, a full bin and a cleaning that runs are states, never findings.
 */
public final class StateWatch {
    /** So many stops within a day are one condition, even if each is short: it trips and starts again. */
    private static final int STOPS_A_DAY = 3;

    private static final Threshold BY_STOPS = new Threshold.BuiltIn("stops_a_day", STOPS_A_DAY, "");

    private static final long DAY_MILLIS = 86_400_000L;
    private static final int GOOD_CYCLES = 12;
    private static final int GOOD_CYCLES_AFTER_WORK = 3;
    private static final long NONE = Long.MIN_VALUE;

    private boolean wasStopped;
    private int stops;
    private long firstStop = NONE;
    private int goodCycles;
    private boolean worked;

    /** @param causes what is probably wrong, asked for only when it is needed */
    public void read(
            Optional<Phase> phase, long since, long millis, RuleContext context, Supplier<List<ProbableCause>> causes) {
        if (phase.isEmpty()) {
            return;
        }
        stopped(phase.get() == Phase.STOPPED, since, millis, context, causes);
        cleaning(phase.get() == Phase.CLEAN, since, millis, context);
    }

    private void stopped(
            boolean isStopped, long since, long millis, RuleContext context, Supplier<List<ProbableCause>> causes) {
        if (isStopped && !wasStopped) {
            if (firstStop == NONE || millis - firstStop > DAY_MILLIS) {
                firstStop = millis;
                stops = 0;
            }
            stops++;
            goodCycles = 0;
            worked = false;
        }
        wasStopped = isStopped;
        boolean isLong = millis - since >= context.policy().millis(PolicyNumber.STOPPED_MINUTES);
        if (isStopped && !context.isOpen(Condition.STOPPED_BY_PROTECTION) && (isLong || stops >= STOPS_A_DAY)) {
            String text = isLong
                    ? String.format(
                            Locale.ROOT,
                            "The machine's own protection has stopped it; after %.0f minutes it still stood.",
                            (millis - since) / 60_000.0)
                    : "The machine's own protection has stopped it " + stops + " times within a day.";
            List<ProbableCause> wrong = causes.get();
            context.report(
                    Condition.STOPPED_BY_PROTECTION,
                    millis,
                    Assessment.of(
                                    Stage.STOPPED,
                                    Priority.URGENT,
                                    text,
                                    isLong ? PolicyNumber.STOPPED_MINUTES : BY_STOPS)
                            .causes(wrong.isEmpty() ? SuddenStop.causes(context) : wrong));
        }
    }

    private static void cleaning(boolean isCleaning, long since, long millis, RuleContext context) {
        if (!isCleaning) {
            if (context.isOpen(Condition.CLEANING_TOO_LONG)) {
                context.clear(Condition.CLEANING_TOO_LONG, millis, "The machine has left its cleaning mode.");
            }
            return;
        }
        long allowed = context.policy(Condition.CLEANING_TOO_LONG).millis(PolicyNumber.CLEANING_MINUTES);
        if (millis - since >= allowed && !context.isOpen(Condition.CLEANING_TOO_LONG)) {
            String text = String.format(
                    Locale.ROOT,
                    "The machine was still in its cleaning mode after %.0f minutes, and makes no ice there.",
                    (millis - since) / 60_000.0);
            context.report(
                    Condition.CLEANING_TOO_LONG,
                    millis,
                    Assessment.of(Stage.STOPPED, Priority.HIGH, text, PolicyNumber.CLEANING_MINUTES)
                            .causes(List.of(new ProbableCause(Cause.LEFT_IN_CLEANING, 0.9, List.of(text), List.of()))));
        }
    }

    /** A complete cycle: after some of them a stop is over. */
    public void completed(long millis, RuleContext context) {
        goodCycles++;
        int wanted = worked ? GOOD_CYCLES_AFTER_WORK : GOOD_CYCLES;
        if (goodCycles >= wanted && context.isOpen(Condition.STOPPED_BY_PROTECTION)) {
            stops = 0;
            firstStop = NONE;
            context.clear(
                    Condition.STOPPED_BY_PROTECTION,
                    millis,
                    "The machine has finished " + wanted + " cycles since it last stopped.");
        }
    }

    /** It was found to stop though it does not say so: from here on cycles count towards the end of that. */
    public void foundStopped() {
        worked = false;
        goodCycles = 0;
    }

    /** Somebody has worked on the machine. */
    public void worked() {
        worked = true;
        goodCycles = 0;
    }

    public void save(StateWriter out) {
        out.flag(wasStopped).whole(stops).time(firstStop).whole(goodCycles).flag(worked);
    }

    public static StateWatch restore(StateReader in) {
        StateWatch watch = new StateWatch();
        watch.wasStopped = in.flag();
        watch.stops = in.wholeInt();
        watch.firstStop = in.time();
        watch.goodCycles = in.wholeInt();
        watch.worked = in.flag();
        return watch;
    }
}
