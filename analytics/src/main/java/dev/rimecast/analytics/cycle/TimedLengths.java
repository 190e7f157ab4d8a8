package dev.rimecast.analytics.cycle;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;

/** The newest lengths of time that the machine measured itself, each with the time at which it ended. */
final class TimedLengths {
    /** A length belongs to a part of a cycle whose ends differ by no more than this. */
    static final long BELONGS_MILLIS = 150_000;

    private static final long NONE = Long.MIN_VALUE;

    private long pullDownEnd = NONE;
    private double pullDown;
    private long freezeEnd = NONE;
    private double freeze;
    private boolean hasHarvests;
    private double fill;
    private boolean hasFill;

    void pullDown(long end, double seconds) {
        pullDownEnd = end;
        pullDown = seconds;
    }

    void freeze(long end, double seconds) {
        freezeEnd = end;
        freeze = seconds;
    }

    void harvest() {
        hasHarvests = true;
    }

    void fill(double seconds) {
        fill = seconds;
        hasFill = true;
    }

    /** Whether this machine has timed a freeze since. */
    boolean hasFreezeSince(long millis) {
        return freezeEnd != NONE && freezeEnd >= millis;
    }

    /** Whether this machine times its harvests at all. */
    boolean hasHarvests() {
        return hasHarvests;
    }

    /** The pull-down of the freeze that began at {@code freezeStart}. */
    OptionalDouble pullDownOf(long freezeStart) {
        return belongs(pullDownEnd, pullDown, freezeStart) ? OptionalDouble.of(pullDown) : OptionalDouble.empty();
    }

    /** The freeze that began at {@code freezeStart}. */
    OptionalDouble freezeOf(long freezeStart) {
        return belongs(freezeEnd, freeze, freezeStart) ? OptionalDouble.of(freeze) : OptionalDouble.empty();
    }

    private static boolean belongs(long end, double seconds, long start) {
        return end != NONE && Math.abs(end - Math.round(seconds * 1000) - start) <= BELONGS_MILLIS;
    }

    /** The fill since the last cycle, once. */
    OptionalDouble takeFill() {
        if (!hasFill) {
            return OptionalDouble.empty();
        }
        hasFill = false;
        return OptionalDouble.of(fill);
    }

    void save(StateWriter out) {
        out.time(pullDownEnd).real(pullDown).time(freezeEnd).real(freeze);
        out.flag(hasHarvests).flag(hasFill).real(fill);
    }

    static TimedLengths restore(StateReader in) {
        TimedLengths lengths = new TimedLengths();
        lengths.pullDownEnd = in.time();
        lengths.pullDown = in.real();
        lengths.freezeEnd = in.time();
        lengths.freeze = in.real();
        lengths.hasHarvests = in.flag();
        lengths.hasFill = in.flag();
        lengths.fill = in.real();
        return lengths;
    }
}
