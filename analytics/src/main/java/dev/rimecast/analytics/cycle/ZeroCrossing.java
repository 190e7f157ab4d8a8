package dev.rimecast.analytics.cycle;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/** When the evaporator first went below 0 °C in a freeze, interpolated between two readings. */
final class ZeroCrossing {
    /** Two readings further apart than this are not joined by a line. */
    private static final long LONGEST_STEP_MILLIS = 180_000;

    /** From this layout of a machine's state on it has how far the last two readings are apart, and times by what went before. */
    private static final int WITH_APART = 19;

    private static final long NONE = Long.MIN_VALUE;

    private boolean hasBefore;
    private double before;
    private long beforeAt;
    private int apartSeconds;
    private long latest = NONE;
    private long ofFreeze = NONE;
    private long freezeStart = Long.MAX_VALUE;

    void on(double celsius, long millis) {
        if (hasBefore && before > 0 && celsius <= 0 && millis - beforeAt <= LONGEST_STEP_MILLIS) {
            latest = beforeAt + Math.round((millis - beforeAt) * before / (before - celsius));
            if (ofFreeze == NONE && latest >= freezeStart) {
                ofFreeze = latest;
            }
        }
        apartSeconds = isJoinedTo(millis) ? (int) ((millis - beforeAt + 500) / 1000) : 0;
        hasBefore = true;
        before = celsius;
        beforeAt = millis;
    }

    /** Whether the reading before this time is near enough for what lies between to be known. */
    boolean isJoinedTo(long millis) {
        return hasBefore && millis - beforeAt <= LONGEST_STEP_MILLIS;
    }

    /** Between the last two readings, whole seconds; 0 where they don't belong together. */
    int apartSeconds() {
        return apartSeconds;
    }

    /** A freeze has started, now or a little while ago. */
    void freezeStarted(long millis) {
        freezeStart = millis;
        ofFreeze = latest >= millis ? latest : NONE;
    }

    boolean isKnown() {
        return ofFreeze != NONE;
    }

    /** Only if {@link #isKnown()}. */
    long millis() {
        return ofFreeze;
    }

    void save(StateWriter out) {
        out.flag(hasBefore)
                .real(before)
                .time(beforeAt)
                .time(latest)
                .time(ofFreeze)
                .time(freezeStart)
                .u8(apartSeconds);
    }

    static ZeroCrossing restore(StateReader in) {
        ZeroCrossing crossing = new ZeroCrossing();
        crossing.hasBefore = in.flag();
        crossing.before = in.real();
        crossing.beforeAt = in.time();
        boolean isShort = in.hasLayout(WITH_APART);
        crossing.latest = isShort ? in.time() : in.whole();
        crossing.ofFreeze = isShort ? in.time() : in.whole();
        crossing.freezeStart = in.time();
        crossing.apartSeconds = isShort ? in.u8() : 0;
        return crossing;
    }
}
