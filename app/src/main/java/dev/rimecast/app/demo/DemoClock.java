package dev.rimecast.app.demo;

import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;

/**
 * The one clock of a demonstration: moved through the past step by step, then following the wall clock. It never goes
 * back.
 */
final class DemoClock implements InstantSource {
    private static final Duration MET = Duration.ofMinutes(1);

    private final InstantSource wall;
    private volatile Instant past;
    private volatile boolean live;

    DemoClock(InstantSource wall, Instant start) {
        this.wall = wall;
        this.past = start;
    }

    @Override
    public Instant instant() {
        return live ? wall.instant() : past;
    }

    /** Whether it still lives through the past. */
    boolean isPast() {
        return !live;
    }

    /**
     * Moves on to {@code next}; within a minute of the wall clock's present it has met it, and follows it from then on.
     *
     * @throws IllegalArgumentException if {@code next} is before the clock's own time
     */
    void moveTo(Instant next) {
        if (next.isBefore(instant())) {
            throw new IllegalArgumentException("the clock stands at " + instant() + " and can't go back to " + next);
        }
        if (next.isBefore(wall.instant().minus(MET))) {
            past = next;
        } else {
            live = true;
        }
    }
}
