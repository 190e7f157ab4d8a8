package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.RuleContext;
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

/**
 * Harvests that fail one after the other: a freeze begins again at once from a plate that has not thawed. Ice lets go when its face melts, at
 * 0 °C; so where the plate stayed below {@value #THAWED_CELSIUS} °C from the end of one freeze until the next one cools it again, the ice is still
 * there. {@value #IN_A_ROW} in a row are a finding: one may be a draught or a heavy batch [common practice].
 *
 * <p>By the phase, where the machine says it: harvest, perhaps fill, then freeze, and the first minutes of that, since a probe lags. Without one, by
 * the plate alone: it was frozen, rose by {@value #TURN_KELVIN} K and fell by as much again. A harvest that a rest follows is not counted.
 *
 * <p>Some probes never show a thaw, since they lag or sit off the plate, and where the plate is read seldom a thaw can be missed. So a machine is
 * judged only once its harvests have thawed {@value #KNOWN} times, and each failure that stood alone takes {@value #ALONE} of them away.
 */
public final class FailedHarvests {
    private static final double THAWED_CELSIUS = -1;
    private static final double FROZEN_CELSIUS = -5;
    private static final double TURN_KELVIN = 3;
    private static final int IN_A_ROW = 3;
    private static final int GOOD = 3;
    private static final int KNOWN = 12;
    private static final int MOST = 30;
    private static final int ALONE = 10;
    /** A probe shows a thaw that late. */
    private static final long LAGS_MILLIS = 180_000;
    /** A thaw and the pull-down after it take longer than this. */
    private static final long SPEAKS_FOR_MILLIS = 150_000;

    private static final long GAP_MILLIS = 15 * 60_000L;
    /** No freeze with its harvest is shorter; what moves the plate sooner again is something else, such as water. */
    private static final long SHORTEST_MILLIS = 6 * 60_000L;
    /** No freeze is longer. */
    private static final long LONGEST_MILLIS = 100 * 60_000L;

    private static final int ROW_BITS = 3;
    private static final int MOST_IN_ROW = 7;
    private static final int COURSE_BITS = 2;
    private static final int COURSE_MASK = 3;
    private static final int COUNT_MASK = 0x1F;
    private static final long NONE = Long.MIN_VALUE;
    private static final List<Threshold> DECIDES = List.of(
            new Threshold.BuiltIn("failed_harvests", IN_A_ROW, ""),
            new Threshold.BuiltIn("thawed_celsius", THAWED_CELSIUS, "Cel"));

    private static final List<String> SEEN =
            List.of("One freeze after the other begins on a plate that has not thawed: its ice is still there.");
    /** The shares are common practice, from no survey. */
    private static final List<ProbableCause> CAUSES = List.of(
            new ProbableCause(Cause.HOT_GAS_VALVE_NOT_OPENING, 0.75, SEEN, List.of()),
            new ProbableCause(Cause.CONTROLLER_FAILED, 0.1, SEEN, List.of()),
            new ProbableCause(Cause.LOW_CHARGE, 0.04, SEEN, List.of()),
            new ProbableCause(Cause.SCALE, 0.04, SEEN, List.of()));

    private enum Course {
        /** Neither frozen nor in a harvest, as far as is known. */
        UNKNOWN,
        /** Frozen; the extreme is the lowest. */
        FROZEN,
        /** It gets warmer, or is in its harvest; the extreme is the warmest. */
        WARMING;

        private static final Course[] VALUES = values();
    }

    private Course course = Course.UNKNOWN;
    private double extreme;
    private long newest = NONE;
    private long turnAt = NONE;
    private int row;
    private int thawed;
    /** Good ones in a row since it was said. */
    private int good;

    private boolean said;

    /** Takes a reading of the plate. */
    public void plate(double celsius, long millis, Optional<Phase> phase, long phaseSince, RuleContext context) {
        long passed = newest == NONE ? 0 : millis - newest;
        newest = millis;
        if (passed > SPEAKS_FOR_MILLIS) {
            course = Course.UNKNOWN;
            row = passed > GAP_MILLIS ? 0 : row;
        }
        if (phase.isPresent()) {
            byPhase(celsius, millis, phase.get(), phaseSince, context);
        } else {
            byPlate(celsius, millis, context);
        }
    }

    private void byPhase(double celsius, long millis, Phase phase, long since, RuleContext context) {
        switch (phase) {
            case HARVEST -> {
                extreme = course == Course.WARMING ? Math.max(extreme, celsius) : celsius;
                course = Course.WARMING;
            }
            case FILL, FREEZE -> {
                if (course == Course.WARMING) {
                    extreme = Math.max(extreme, celsius);
                    if (phase == Phase.FREEZE && millis - since >= LAGS_MILLIS) {
                        course = Course.UNKNOWN;
                        over(extreme, millis, context);
                    }
                }
            }
            case IDLE, WAIT, CLEAN, STOPPED, REDUCED, OFF -> course = Course.UNKNOWN;
        }
    }

    private void byPlate(double celsius, long millis, RuleContext context) {
        switch (course) {
            case UNKNOWN -> frozen(celsius);
            case FROZEN -> {
                if (celsius >= extreme + TURN_KELVIN) {
                    course = Course.WARMING;
                    extreme = celsius;
                } else {
                    extreme = Math.min(extreme, celsius);
                }
            }
            case WARMING -> {
                if (celsius > extreme - TURN_KELVIN) {
                    extreme = Math.max(extreme, celsius);
                } else {
                    double warmest = extreme;
                    frozen(celsius);
                    over(warmest, millis, context);
                }
            }
        }
    }

    private void frozen(double celsius) {
        course = celsius < FROZEN_CELSIUS ? Course.FROZEN : Course.UNKNOWN;
        extreme = celsius;
    }

    /** The plate is cooled again. */
    private void over(double warmest, long millis, RuleContext context) {
        long apart = turnAt == NONE ? LONGEST_MILLIS : millis - turnAt;
        turnAt = millis;
        if (warmest > THAWED_CELSIUS) {
            thawed(millis, context);
        } else if (apart >= SHORTEST_MILLIS) {
            row = apart > LONGEST_MILLIS ? 1 : Math.min(MOST_IN_ROW, row + 1);
            good = 0;
            say(warmest, millis, context);
        }
    }

    private void thawed(long millis, RuleContext context) {
        thawed = row > 0 && row < IN_A_ROW ? Math.max(0, thawed - ALONE) : Math.min(MOST, thawed + 1);
        good = Math.min(GOOD, good + 1);
        if (!said || good >= GOOD) {
            row = 0;
        }
        if (said && good >= GOOD) {
            said = false;
            context.clear(Condition.INCOMPLETE_HARVEST, millis, "The plate thaws in its harvests again.");
        }
    }

    private void say(double warmest, long millis, RuleContext context) {
        boolean isOther = context.isOpen(Condition.INCOMPLETE_HARVEST)
                || context.isOpen(Condition.STOPPED_BY_PROTECTION)
                || context.isOpen(Condition.SENSOR_IMPLAUSIBLE);
        if (!isFailing() || isOther) {
            return;
        }
        said = true;
        String text = String.format(
                Locale.ROOT,
                "%d freezes in a row began on a plate that had not thawed (%.1f °C at most): the harvests fail.",
                row,
                warmest);
        context.report(
                Condition.INCOMPLETE_HARVEST,
                millis,
                Assessment.of(Stage.AT_LIMIT, Priority.HIGH, text, DECIDES).causes(causes(millis, context)));
    }

    /** What leaves ice on a plate that gets no heat. */
    public List<ProbableCause> causes(long millis, RuleContext context) {
        return ColdRoom.first(CAUSES, millis, context);
    }

    /** Whether its harvests fail: what it runs for is no ice. */
    public boolean isFailing() {
        return row >= IN_A_ROW && thawed >= KNOWN;
    }

    public void save(StateWriter out) {
        out.u8(course.ordinal() | row << COURSE_BITS | good << COURSE_BITS + ROW_BITS)
                .u8(thawed | (said ? COUNT_MASK + 1 : 0))
                .time(newest)
                .time(turnAt);
        if (course != Course.UNKNOWN) {
            out.measured(extreme);
        }
    }

    public static FailedHarvests restore(StateReader in) {
        FailedHarvests harvests = new FailedHarvests();
        int bits = in.u8();
        harvests.course = Course.VALUES[bits & COURSE_MASK];
        harvests.row = bits >> COURSE_BITS & MOST_IN_ROW;
        harvests.good = bits >> COURSE_BITS + ROW_BITS;
        int count = in.u8();
        harvests.thawed = count & COUNT_MASK;
        harvests.said = count > COUNT_MASK;
        harvests.newest = in.time();
        harvests.turnAt = in.time();
        if (harvests.course != Course.UNKNOWN) {
            harvests.extreme = in.measured();
        }
        return harvests;
    }
}
