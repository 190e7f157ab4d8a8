package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.telemetry.machine.Phase;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;

/** Stops with a wait; the third within eight hours locks the machine until somebody resets it. */
final class Protection {
    private static final long LOCK_WINDOW_SECONDS = 8 * 3600;
    private static final int LOCKING_TRIP = 3;
    private static final double RESET_SHARE = .45;

    private final PhaseClock clock;
    private final Water water;
    private final Ailment ailment;
    private final Chance chance;
    private final List<Long> trips = new ArrayList<>();
    private boolean locked;
    private OptionalLong resetAt = OptionalLong.empty();
    private long waitsUntil;

    Protection(PhaseClock clock, Water water, Ailment ailment, Chance chance) {
        this.clock = clock;
        this.water = water;
        this.ailment = ailment;
        this.chance = chance;
    }

    void trip(long t, long waitSeconds) {
        clock.enter(Phase.STOPPED, t);
        water.stopFilling();
        waitsUntil = t + waitSeconds;
        trips.removeIf(trip -> t - trip >= LOCK_WINDOW_SECONDS);
        trips.add(t);
        if (trips.size() >= LOCKING_TRIP) {
            locked = true;
            boolean somebody = chance.hit(RESET_SHARE);
            resetAt = somebody ? OptionalLong.of(t + (long) (chance.between(1, 9) * 3600)) : OptionalLong.empty();
        }
        ailment.stop(t);
    }

    /** A controller that hangs is locked for good. */
    void hang(long t) {
        clock.enter(Phase.STOPPED, t);
        locked = true;
        resetAt = OptionalLong.empty();
        ailment.stop(t);
    }

    boolean isLocked() {
        return locked;
    }

    void unlock() {
        locked = false;
        trips.clear();
    }

    /** Whether a stopped machine may start again. */
    boolean isOver(long t) {
        if (!locked) {
            return t >= waitsUntil;
        }
        boolean reset = resetAt.isPresent() && t >= resetAt.getAsLong();
        if (reset && !ailment.is(FaultKind.CONTROLLER_FAILED)) {
            unlock();
            return true;
        }
        return false;
    }
}
