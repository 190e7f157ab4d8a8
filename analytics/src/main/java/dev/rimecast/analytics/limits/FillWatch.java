package dev.rimecast.analytics.limits;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A water fill that does not end, by the phase that the machine says. Either no water comes, or it runs away as fast as it comes: an open
 * sump empties in about a minute and looks like no water, but the drain works and the meter runs. Most machines wait for some minutes in this
 * phase after power-on; one that has not finished a cycle yet is not judged.
 */
public final class FillWatch {
    private static final long GAP_MILLIS = 300_000;
    /** What was seen of a fill still explains a stop so long after it. */
    private static final long EXPLAINS_MILLIS = 3_600_000;

    private static final long AFTER_CLEANING_MILLIS = 3_600_000;
    private static final int DRAIN_SIGNALS = 3;
    /** More than a sump takes, by far, in a machine of this kind's few minutes (common practice). */
    private static final double MUCH_WATER_CUBIC_METRES = 0.006;

    private static final long NONE = Long.MIN_VALUE;

    /** What becomes of the water. */
    private enum Water {
        STAYS_AWAY,
        RUNS_AWAY,
        UNKNOWN
    }

    private boolean hasMade;
    private boolean hasDrain;
    /** Whether the signal itself is sent, and not only how long it was. */
    private boolean hasDrainSignal;

    private boolean isDrainHigh;
    private long since = NONE;
    private long newest = NONE;
    private long cleanedAt = NONE;
    private boolean wasCleaned;
    private int drained;
    private double meterAtFirst = Double.NaN;
    private double meter = Double.NaN;
    private long endlessAt = NONE;

    /** Takes a reading, and the phase as it is with it. */
    public void read(Channel channel, double value, long millis, Optional<Phase> phase, RuleContext context) {
        seeWater(channel, value);
        Optional<Phase> now = newest != NONE && millis - newest > GAP_MILLIS ? Optional.empty() : phase;
        newest = millis;
        if (now.isPresent() && now.get() == Phase.CLEAN) {
            cleanedAt = millis;
        }
        if (now.isEmpty() || now.get() != Phase.FILL) {
            since = NONE;
            return;
        }
        if (since == NONE) {
            since = millis;
            drained = 0;
            meterAtFirst = meter;
            wasCleaned = cleanedAt != NONE && millis - cleanedAt <= AFTER_CLEANING_MILLIS;
        }
        boolean isEndless = hasMade && millis - since >= context.policy().millis(PolicyNumber.FILL_MINUTES);
        if (isEndless) {
            boolean isNew = endlessAt == NONE || endlessAt < since;
            endlessAt = millis;
            if (isNew) {
                context.report(Condition.SLOW_FILL, millis, found(millis));
            }
        }
    }

    private void seeWater(Channel channel, double value) {
        switch (channel) {
            case WATER_VOLUME -> meter = value;
            case DRAIN_LEVEL -> {
                drained += isDrainHigh && value == 0 ? 1 : 0;
                isDrainHigh = value != 0;
                hasDrainSignal = true;
            }
            case DRAIN_LEVEL_TIME -> drained += hasDrainSignal ? 0 : 1;
            default -> {}
        }
        hasDrain |= channel == Channel.DRAIN_LEVEL || channel == Channel.DRAIN_LEVEL_TIME;
    }

    /** A complete cycle: the machine has had its water. */
    public void completed() {
        hasMade = true;
        endlessAt = NONE;
    }

    private Water water() {
        boolean isMetered = !Double.isNaN(meter) && !Double.isNaN(meterAtFirst);
        if (drained >= DRAIN_SIGNALS || (isMetered && meter - meterAtFirst >= MUCH_WATER_CUBIC_METRES)) {
            return Water.RUNS_AWAY;
        }
        return hasDrain || isMetered ? Water.STAYS_AWAY : Water.UNKNOWN;
    }

    private Assessment found(long millis) {
        String text = String.format(
                Locale.ROOT,
                switch (water()) {
                    case STAYS_AWAY -> "The water fill has gone on for %.0f minutes: no water comes.";
                    case RUNS_AWAY ->
                        "The water fill has gone on for %.0f minutes: the water runs away as it comes in.";
                    case UNKNOWN -> "The water fill has gone on for %.0f minutes and does not end.";
                },
                (millis - since) / 60_000.0);
        return Assessment.of(Stage.AT_LIMIT, Priority.HIGH, text, PolicyNumber.FILL_MINUTES)
                .causes(causes());
    }

    /** What keeps the last fill from ending, where it did not end and that was not long ago; else empty. */
    public List<ProbableCause> causes(long now) {
        return endlessAt != NONE && now - endlessAt <= EXPLAINS_MILLIS ? causes() : List.of();
    }

    /** How often each is found behind this [common practice]. */
    private List<ProbableCause> causes() {
        return switch (water()) {
            case STAYS_AWAY -> {
                List<String> seen = List.of(
                        hasDrain
                                ? "The fill does not end, and nothing runs to the drain meanwhile."
                                : "The fill does not end, and the meter hardly moves.");
                yield List.of(cause(Cause.WATER_SUPPLY_LOW, 0.9, seen), cause(Cause.CONTROLLER_FAILED, 0.04, seen));
            }
            case RUNS_AWAY -> ofWaterThatRunsAway();
            case UNKNOWN -> {
                List<String> seen = List.of("The fill does not end; whether water comes cannot be seen.");
                yield wasCleaned
                        ? List.of(cause(Cause.SUMP_PLUG_OFF, 0.5, seen), cause(Cause.WATER_SUPPLY_LOW, 0.4, seen))
                        : List.of(
                                cause(Cause.WATER_SUPPLY_LOW, 0.7, seen),
                                cause(Cause.SUMP_PLUG_OFF, 0.1, seen),
                                cause(Cause.DUMP_VALVE_LEAKING, 0.1, seen));
            }
        };
    }

    private List<ProbableCause> ofWaterThatRunsAway() {
        String seen = drained >= DRAIN_SIGNALS
                ? "The drain works again and again while the machine fills."
                : "The meter has counted far more than a sump takes.";
        return wasCleaned
                ? List.of(
                        cause(Cause.SUMP_PLUG_OFF, 0.85, List.of(seen, "It began right after a cleaning.")),
                        cause(Cause.DUMP_VALVE_LEAKING, 0.08, List.of(seen)))
                : List.of(
                        cause(Cause.DUMP_VALVE_LEAKING, 0.45, List.of(seen)),
                        cause(Cause.SUMP_PLUG_OFF, 0.4, List.of(seen)));
    }

    private static ProbableCause cause(Cause cause, double probability, List<String> seen) {
        return new ProbableCause(cause, probability, seen, List.of());
    }

    public void save(StateWriter out) {
        out.flag(hasMade)
                .flag(hasDrain)
                .flag(hasDrainSignal)
                .flag(isDrainHigh)
                .time(since)
                .time(newest)
                .time(cleanedAt)
                .flag(wasCleaned);
        out.whole(drained).real(meterAtFirst).real(meter).time(endlessAt);
    }

    public static FillWatch restore(StateReader in) {
        FillWatch watch = new FillWatch();
        watch.hasMade = in.flag();
        watch.hasDrain = in.flag();
        watch.hasDrainSignal = in.flag();
        watch.isDrainHigh = in.flag();
        watch.since = in.time();
        watch.newest = in.time();
        watch.cleanedAt = in.time();
        watch.wasCleaned = in.flag();
        watch.drained = in.wholeInt();
        watch.meterAtFirst = in.real();
        watch.meter = in.real();
        watch.endlessAt = in.time();
        return watch;
    }
}
