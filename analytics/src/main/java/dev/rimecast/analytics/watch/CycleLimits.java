package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.ControllerLimits;
import dev.rimecast.analytics.limits.DrainLimit;
import dev.rimecast.analytics.limits.PullDownLimit;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.util.List;
import java.util.Optional;

/** The limits of a controller that a cycle can reach, whatever the machine usually does: its pull-down and its drain signals. */
final class CycleLimits {
    private PullDownLimit pullDown = new PullDownLimit();
    private DrainLimit drain = new DrainLimit();

    /** What has a gap may be two cycles; what was interrupted was judged while it went on. */
    void cycle(RawCycle raw, RuleContext context) {
        if (raw.complete()) {
            pullDown.cycle(raw.pullDownSeconds(), context.limits().pullDownSeconds());
        }
    }

    /** Time goes by in a freeze; returns whether the limit of the pull-down has been passed just now. */
    boolean passed(long pullingDownSince, long millis, RuleContext context) {
        return pullDown.passed(pullingDownSince, millis, context.limits().pullDownSeconds());
    }

    /** A drain level signal has ended, or has lasted so long already; returns whether there is something to say of it. */
    boolean drainLevel(double seconds, long millis, RuleContext context) {
        return drain.level(seconds, millis, context.limits().drainLevelSeconds()) && drain.isOver();
    }

    boolean isPullDownBeyond() {
        return pullDown.isBeyond();
    }

    boolean isDrainRepeated() {
        return drain.isRepeated();
    }

    void forgetDrain() {
        drain.forget();
    }

    boolean isReached(Sign sign) {
        return switch (sign) {
            case SLOW_PULL_DOWN -> pullDown.isBeyond();
            case DRAIN_OVERRUN -> drain.isOver();
            case RISING_CONDENSING, LONG_FREEZE, SHORT_FREEZE, LONG_HARVEST, SLOW_FILL, WATER_USE_HIGH, LOW_OUTPUT ->
                false;
        };
    }

    /** What is said of a limit, of the pull-down or the drain, without its causes. */
    Assessment found(Sign sign, ControllerLimits limits) {
        return sign == Sign.SLOW_PULL_DOWN ? AtLimit.pullDown(pullDown, limits) : AtLimit.drain(drain, limits);
    }

    /**
     * The causes where the cycles before showed nothing; empty where they have to be asked.
     *
     * @param isLearned whether there were cycles before that say what should be
     */
    Optional<List<ProbableCause>> causesAtOnce(Sign sign, boolean isLearned) {
        if (sign == Sign.SLOW_PULL_DOWN) {
            return isLearned ? Optional.of(AtLimit.CAUSES_OF_SUDDEN_PULL_DOWN) : Optional.empty();
        }
        return drain.isStanding() ? Optional.of(AtLimit.CAUSES_OF_STANDING_WATER) : Optional.empty();
    }

    void save(StateWriter out) {
        pullDown.save(out);
        drain.save(out);
    }

    static CycleLimits restore(StateReader in) {
        CycleLimits limits = new CycleLimits();
        limits.pullDown = PullDownLimit.restore(in);
        limits.drain = DrainLimit.restore(in);
        return limits;
    }
}
