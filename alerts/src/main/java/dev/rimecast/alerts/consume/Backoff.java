package dev.rimecast.alerts.consume;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/** Growing pauses between attempts, ended at once by the stop. */
final class Backoff {
    private static final long FIRST_MILLIS = 100;
    private static final long LONGEST_MILLIS = 5_000;

    private final CountDownLatch stop;
    private long nextMillis = FIRST_MILLIS;

    Backoff(CountDownLatch stop) {
        this.stop = stop;
    }

    /** Waits, each time twice as long up to 5 s; returns false if everything is to stop. */
    boolean pause() throws InterruptedException {
        long millis = nextMillis;
        nextMillis = Math.min(LONGEST_MILLIS, 2 * nextMillis);
        return !stop.await(millis, TimeUnit.MILLISECONDS);
    }

    void reset() {
        nextMillis = FIRST_MILLIS;
    }
}
