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
 * phase after power-on; one that has not finished a cycle yet is not judged, nor one with a full bin while nothing runs away.
 */
public final class FillWatch {
    private static final long GAP_MILLIS = 900_000;
    /** What was seen of a fill still explains a stop so long after it. */
    private static final long EXPLAINS_MILLIS = 3 * 3_600_000L;
    /** A freeze that goes on for so long has had its water. */
    private static final long FREEZES_MILLIS = 300_000;
    /** Not where the plate is colder than this: a plate under water never is [common practice], a dry one soon. */
    private static final double DRY_CELSIUS = -30;

    /** Some machines freeze once without water before they fill again. */
    private static final long AFTER_CLEANING_MILLIS = 3 * 3_600_000L;

    private static final long AFTER_DELAY_MILLIS = 120_000;
    /** A plate as cold as this freezes: then an old word of the phase is not taken for the present one. */
    private static final double FREEZING_CELSIUS = -3;

    private static final long WORD_MILLIS = 180_000;
    private static final long NONE = Long.MIN_VALUE;

    private FillWater water = new FillWater();
    private boolean hasMade;
    private long since = NONE;
    private boolean isFromWork;
    private boolean isAfterCleaning;
    private long freezesSince = NONE;
    private long newest = NONE;
    private long saidAt = NONE;
    private long cleanedAt = NONE;
    private boolean isBinFull;
    private long endlessAt = NONE;
    /** What was seen of the fill that did not end, and whether a cleaning went before it. */
    private FillWater.Fate fate = FillWater.Fate.UNKNOWN;

    private boolean wasCleaned;

    /** Takes a reading, and the phase as it is with it. */
    public void read(Channel channel, double value, long millis, Optional<Phase> phase, RuleContext context) {
        water.read(channel, value, millis);
        if (channel == Channel.BIN_FULL) {
            isBinFull = value != 0;
        } else if (channel == Channel.PHASE) {
            saidAt = millis;
        }
        boolean isGap = newest == NONE || millis - newest > GAP_MILLIS;
        newest = millis;
        boolean isDry = channel == Channel.EVAPORATOR_TEMPERATURE && value < DRY_CELSIUS;
        boolean isOldWord =
                channel == Channel.EVAPORATOR_TEMPERATURE && value < FREEZING_CELSIUS && millis - saidAt > WORD_MILLIS;
        if (phase.isEmpty() || isGap || isOldWord) {
            since = NONE;
            freezesSince = NONE;
        } else {
            phase(phase.get(), millis, context);
        }
        if (isDry) {
            freezesSince = NONE;
        }
    }

    private void phase(Phase phase, long millis, RuleContext context) {
        if (phase == Phase.CLEAN) {
            cleanedAt = millis;
        }
        if (phase != Phase.FREEZE) {
            freezesSince = NONE;
        } else if (freezesSince == NONE) {
            freezesSince = millis;
        } else if (millis - freezesSince >= FREEZES_MILLIS) {
            endlessAt = NONE;
        }
        if (phase != Phase.FILL) {
            since = NONE;
            isFromWork =
                    phase == Phase.FREEZE || phase == Phase.REDUCED || phase == Phase.HARVEST || phase == Phase.IDLE;
            return;
        }
        if (since == NONE) {
            since = millis;
            isAfterCleaning = cleanedAt != NONE && millis - cleanedAt <= AFTER_CLEANING_MILLIS;
            water.begins(millis);
        }
        if (hasMade && millis - since >= allowed(context)) {
            endless(millis, context);
        }
    }

    /** A machine that was not at work may wait in this phase for as long as its start is delayed. */
    private long allowed(RuleContext context) {
        long allowed = context.policy().millis(PolicyNumber.FILL_MINUTES);
        long delay = context.machine().startDelaySeconds() * 1000L + AFTER_DELAY_MILLIS;
        return isFromWork ? allowed : Math.max(allowed, delay);
    }

    private void endless(long millis, RuleContext context) {
        FillWater.Fate now = water.fate(context.machine(), millis);
        boolean isRunningAway = now == FillWater.Fate.RUNS_AWAY_TO_DRAIN || now == FillWater.Fate.RUNS_AWAY_BY_METER;
        if (isBinFull && !isRunningAway) {
            return;
        }
        boolean isNew = endlessAt == NONE || endlessAt < since;
        endlessAt = millis;
        fate = now;
        wasCleaned = isAfterCleaning;
        if (isNew) {
            Condition condition = isRunningAway ? Condition.WATER_USE_HIGH : Condition.SLOW_FILL;
            context.report(condition, millis, found((millis - since) / 60_000.0));
        }
    }

    /** A complete cycle: the machine has had its water. */
    public void completed() {
        hasMade = true;
        endlessAt = NONE;
    }

    /** Somebody has worked on it: what was seen before explains nothing any more. */
    public void worked() {
        endlessAt = NONE;
    }

    private Assessment found(double minutes) {
        String text = String.format(
                Locale.ROOT,
                switch (fate) {
                    case STAYS_AWAY -> "The water fill has gone on for %.0f minutes: no water comes, or hardly any.";
                    case RUNS_AWAY_TO_DRAIN, RUNS_AWAY_BY_METER ->
                        "The water fill has gone on for %.0f minutes: the water runs away as it comes in.";
                    case UNKNOWN -> "The water fill has gone on for %.0f minutes and does not end.";
                },
                minutes);
        return Assessment.of(Stage.AT_LIMIT, Priority.HIGH, text, PolicyNumber.FILL_MINUTES)
                .causes(causes());
    }

    /** What keeps the last fill from ending, where it did not end and that was not long ago; else empty. */
    public List<ProbableCause> causes(long now) {
        return endlessAt != NONE && now - endlessAt <= EXPLAINS_MILLIS ? causes() : List.of();
    }

    /** How often each is found behind this [common practice]. */
    private List<ProbableCause> causes() {
        return switch (fate) {
            case STAYS_AWAY -> {
                List<String> seen =
                        List.of("The fill does not end, and meanwhile the drain is quiet or the meter hardly moves.");
                yield List.of(cause(Cause.WATER_SUPPLY_LOW, 0.9, seen), cause(Cause.CONTROLLER_FAILED, 0.04, seen));
            }
            case RUNS_AWAY_TO_DRAIN -> ofWaterThatRunsAway("The drain works again and again while the machine fills.");
            case RUNS_AWAY_BY_METER -> ofWaterThatRunsAway("The meter has counted far more than a sump takes.");
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

    private List<ProbableCause> ofWaterThatRunsAway(String seen) {
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
        water.save(out);
        out.flag(hasMade).time(since).flag(isFromWork).flag(isAfterCleaning).time(freezesSince);
        out.time(newest).time(saidAt).time(cleanedAt).flag(isBinFull);
        out.time(endlessAt).u8(fate.ordinal()).flag(wasCleaned);
    }

    /** One of a machine whose state did not have it yet. */
    public static FillWatch of(boolean hasMade) {
        FillWatch watch = new FillWatch();
        watch.hasMade = hasMade;
        return watch;
    }

    public static FillWatch restore(StateReader in) {
        FillWatch watch = new FillWatch();
        watch.water = FillWater.restore(in);
        watch.hasMade = in.flag();
        watch.since = in.time();
        watch.isFromWork = in.flag();
        watch.isAfterCleaning = in.flag();
        watch.freezesSince = in.time();
        watch.newest = in.time();
        watch.saidAt = in.time();
        watch.cleanedAt = in.time();
        watch.isBinFull = in.flag();
        watch.endlessAt = in.time();
        watch.fate = FillWater.Fate.values()[in.u8()];
        watch.wasCleaned = in.flag();
        return watch;
    }
}
