package dev.rimecast.analytics.making;

import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.Optional;

/**
 * Whether a machine has rested for far longer than it ever does: the machine's own longest rests of the last weeks say
 * what is long.
 *
 * <p>Three measures, each against its own habit: h since the last finished cycle; h switched off on end; h for which the
 * resting plate was as warm as the room. The last is the quickest: the evaporator hangs over the ice and stays cold while
 * there is any [common practice], so a warm one means that the bin is empty.
 *
 * <p>A full bin that nobody takes from melts, and calls for ice again after a day or two [common practice: an open bin
 * loses some tenths in a day]; so even on a site that closes, a bin can't be full for ever.
 */
final class Pauses {
    private static final double STEP_HOURS = 0.5;
    /** Above it a site has quiet days, and the next quiet days may be longer. */
    private static final double BUSY_SHARE = 0.3;

    private static final double MOST_OF_IT = 0.5;
    private static final double DAY_MILLIS = 86_400_000;
    private static final long HOUR_MILLIS = 3_600_000;
    private static final int HOURS_OF_DAY = 24;
    private static final int USUAL_WITHIN_HOURS = 2;
    private static final long NONE = Long.MIN_VALUE;

    private Pause pause = new Pause();
    private Habit usual = new Habit();
    private Habit usualOff = new Habit();
    private Habit usualWarm = new Habit();
    private WarmPlate plate = new WarmPlate();
    private long firstSeen = NONE;
    /** Whether what went on in this pause is no habit: somebody complained, worked on it, or was away. */
    private boolean isSpecial;
    /** Hour of the day at which it was last switched off in the ordinary way; below 0 if it never was. */
    private int offAtHour = -1;

    void pass(Doing doing, long millis) {
        firstSeen = firstSeen == NONE ? millis : firstSeen;
        if (pause.doing() == Doing.OFF && doing != Doing.OFF && !isSpecial) {
            usualOff.see(pause.hoursOnEnd() / STEP_HOURS, millis);
            offAtHour = hourOfDay(pause.doingSinceMillis());
        }
        pause.pass(doing, millis);
        plate.pass(doing, millis);
    }

    /** Takes the two temperatures. */
    void temperatures(double evaporator, double condenser, long millis) {
        plate.see(evaporator, condenser, millis);
    }

    /** A cycle is over. */
    void cycle(long millis) {
        if (!isSpecial && pause.hours(Doing.STOPPED) == 0) {
            usual.see(pause.restHours() / STEP_HOURS, millis);
            usualWarm.see(plate.longestHours() / STEP_HOURS, millis);
        }
        plate.rested(pause.restHours());
        isSpecial = false;
        begin(millis);
    }

    /** Time counts anew from here. */
    void begin(long millis) {
        pause.begin(millis);
        plate.begin();
    }

    /** What goes on in this pause is no habit. */
    void special() {
        isSpecial = true;
    }

    Pause current() {
        return pause;
    }

    /** How long the machine usually rests at most, h. */
    double usualHours() {
        return usual.largest() * STEP_HOURS;
    }

    double usualOffHours() {
        return usualOff.largest() * STEP_HOURS;
    }

    /** Whether it is switched off as it is at this time of other days, and for no longer. */
    boolean isOffAsUsual() {
        if (pause.doing() != Doing.OFF || offAtHour < 0 || pause.hoursOnEnd() > usualOffHours()) {
            return false;
        }
        int apart = Math.floorMod(hourOfDay(pause.doingSinceMillis()) - offAtHour, HOURS_OF_DAY);
        return Math.min(apart, HOURS_OF_DAY - apart) <= USUAL_WITHIN_HOURS;
    }

    private static int hourOfDay(long millis) {
        return (int) Math.floorMod(Math.floorDiv(millis, HOUR_MILLIS), (long) HOURS_OF_DAY);
    }

    boolean isPlateTelling() {
        return plate.isKnown() && plate.isTelling();
    }

    /** For how long the plate has said that there is no ice in the bin, h. */
    double warmHours() {
        return plate.hours();
    }

    /** Whether the plate says that there is ice in the bin. */
    boolean isPlateCold() {
        return plate.isCold();
    }

    /** In which way the pause is too long now, if it is. */
    Optional<TooLong> tooLong(Around around, long millis, RuleContext context) {
        GroupPolicy policy = context.policy();
        Doing doing = pause.doing();
        if (doing != Doing.FULL && doing != Doing.OFF && doing != Doing.RESTING) {
            return Optional.empty();
        }
        boolean isLearned = millis - firstSeen >= policy.get(PolicyNumber.HABIT_DAYS) * DAY_MILLIS;
        if (plate.isTelling()
                && plate.hours() >= allowed(usualWarm, PolicyNumber.WARM_PLATE_HOURS, isLearned, policy)) {
            return Optional.of(TooLong.PLATE_WARM);
        }
        if (doing == Doing.OFF) {
            return pause.hoursOnEnd() >= allowed(usualOff, PolicyNumber.OFF_HOURS, isLearned, policy)
                    ? Optional.of(TooLong.OFF)
                    : Optional.empty();
        }
        double allowed = doing == Doing.RESTING && isLearned && around.isAfterCleaning(pause.hours(), millis)
                ? Math.max(
                        policy.get(PolicyNumber.REST_AFTER_CLEANING_HOURS),
                        usualHours() * policy.get(PolicyNumber.REST_AFTER_CLEANING_FACTOR))
                : allowedRest(around.site(), isLearned, policy);
        boolean isMostly = pause.hours(doing) >= MOST_OF_IT * pause.restHours();
        return isMostly && pause.restHours() >= allowed ? Optional.of(TooLong.REST) : Optional.empty();
    }

    private double allowedRest(Around.Site site, boolean isLearned, GroupPolicy policy) {
        double allowed = allowed(usual, PolicyNumber.REST_HOURS, isLearned, policy);
        double untouched = policy.get(PolicyNumber.UNTOUCHED_BIN_HOURS);
        boolean mayBeQuiet = switch (site) {
            case QUIET -> true;
            case BUSY -> false;
            case UNKNOWN -> allowed > untouched * BUSY_SHARE;
        };
        return mayBeQuiet ? Math.max(allowed, untouched) : allowed;
    }

    /** In which measure a pause is too long. */
    enum TooLong {
        REST,
        OFF,
        PLATE_WARM
    }

    private static double allowed(Habit habit, PolicyNumber least, boolean isLearned, GroupPolicy policy) {
        double usual = habit.largest() * STEP_HOURS * policy.get(PolicyNumber.HABIT_FACTOR);
        double lowest = isLearned ? policy.get(least) : policy.get(PolicyNumber.UNKNOWN_HABIT_HOURS);
        return Math.max(lowest, usual);
    }

    void save(StateWriter out) {
        pause.save(out);
        usual.save(out);
        usualOff.save(out);
        usualWarm.save(out);
        plate.save(out);
        out.time(firstSeen).flag(isSpecial).whole(offAtHour);
    }

    static Pauses restore(StateReader in) {
        Pauses pauses = new Pauses();
        pauses.pause = Pause.restore(in);
        pauses.usual = Habit.restore(in);
        pauses.usualOff = Habit.restore(in);
        pauses.usualWarm = Habit.restore(in);
        pauses.plate = WarmPlate.restore(in);
        pauses.firstSeen = in.time();
        pauses.isSpecial = in.flag();
        pauses.offAtHour = in.wholeInt();
        return pauses;
    }
}
