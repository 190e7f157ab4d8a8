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
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Phase;
import java.util.List;
import java.util.function.Supplier;

/**
 * Somebody keeps resetting the machine. Needs its phase. Judged with the hour, so that restarts of the whole site, which are a
 * power cut, can be told.
 */
public final class RestartWatch {
    private static final long DAY_MILLIS = 86_400_000L;
    private static final long OVER_MILLIS = 4 * DAY_MILLIS;
    private static final long TOGETHER_MILLIS = 10 * 60_000L;
    /** Readings of the neighbours come by then. */
    private static final long SETTLED_MILLIS = 15 * 60_000L;

    private static final long NONE = Long.MIN_VALUE;

    private Restarts restarts = new Restarts();
    private boolean closed;

    public void phase(Phase phase, long millis) {
        restarts.phase(phase, millis);
    }

    public void happened(EventKind kind, long millis) {
        switch (kind) {
            case VISIT,
                    CLEANED,
                    AIR_FILTER_WASHED,
                    WATER_FILTER_CHANGED,
                    LAMP_CHANGED,
                    PART_REPLACED,
                    SENSOR_REPLACED,
                    CONTROLLER_REPLACED,
                    MOVED,
                    EXCHANGED -> restarts.worked(millis);
            case CLOSED_FROM -> closed = true;
            case CLOSED_TO -> closed = false;
            case CALL, SITE_ANSWER, HARVEST_WEIGHED -> {}
        }
    }

    /** The restart that is to be held against those of the neighbours next, or {@link Long#MIN_VALUE}. */
    public long unjudged(long newestMillis) {
        return newestMillis == NONE ? NONE : restarts.unjudged(newestMillis - SETTLED_MILLIS);
    }

    /** Whether this machine restarted at about the same time. */
    public boolean restartedNear(long millis) {
        return restarts.isOneNear(millis, TOGETHER_MILLIS);
    }

    /** Says of the restart that {@link #unjudged} has named whether most of the site restarted with it. */
    public void judge(boolean isOfSite) {
        restarts.judge(isOfSite);
    }

    /**
     * An hour has passed.
     *
     * @param causes what is probably wrong with the machine, asked for only when it is needed
     */
    public void hour(long newestMillis, RuleContext context, Supplier<List<ProbableCause>> causes) {
        long since = newestMillis - DAY_MILLIS;
        int found = restarts.since(since);
        boolean isOpen = context.isOpen(Condition.REPEATED_RESTARTS);
        long span = context.policy().millis(PolicyNumber.RESTARTS_SPAN_MINUTES);
        boolean isMany = found >= context.policy().get(PolicyNumber.RESTARTS_A_DAY) && restarts.span(since) >= span;
        if (isMany && !isOpen && !closed) {
            context.report(
                    Condition.REPEATED_RESTARTS,
                    newestMillis,
                    Assessment.of(
                                    Stage.AT_LIMIT,
                                    Priority.HIGH,
                                    "The machine was switched off and on, or reset, " + found + " times within a day.",
                                    List.of(PolicyNumber.RESTARTS_A_DAY, PolicyNumber.RESTARTS_SPAN_MINUTES))
                            .causes(causes.get()));
        } else if (isOpen && restarts.since(newestMillis - OVER_MILLIS) == 0) {
            context.clear(Condition.REPEATED_RESTARTS, newestMillis, "Nobody has restarted the machine for four days.");
        }
    }

    public void save(StateWriter out) {
        restarts.save(out);
        out.flag(closed);
    }

    public static RestartWatch restore(StateReader in) {
        RestartWatch watch = new RestartWatch();
        watch.restarts = Restarts.restore(in);
        watch.closed = in.flag();
        return watch;
    }
}
