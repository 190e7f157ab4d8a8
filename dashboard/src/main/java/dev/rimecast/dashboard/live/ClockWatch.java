package dev.rimecast.dashboard.live;

import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.LongSupplier;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Tells the screens when the product's clock does not run as theirs do, as in a demonstration that lives through weeks
 * in minutes; else they count on by themselves.
 */
public final class ClockWatch implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(ClockWatch.class);
    private static final Duration TOLERATED = Duration.ofSeconds(3);

    private final LiveHub hub;
    private final InstantSource clock;
    private final LongSupplier monotonicNanos;
    private final Supplier<String> data;
    private final ScheduledExecutorService timer;
    private @Nullable Future<?> repeated;
    private Instant told;
    private long toldNanos;

    /** @param data the data of a {@code clock} event as of now */
    public ClockWatch(LiveHub hub, InstantSource clock, LongSupplier monotonicNanos, Supplier<String> data) {
        this.hub = hub;
        this.clock = clock;
        this.monotonicNanos = monotonicNanos;
        this.data = data;
        this.told = clock.instant();
        this.toldNanos = monotonicNanos.getAsLong();
        this.timer = Executors.newSingleThreadScheduledExecutor(task -> {
            Thread thread = new Thread(task, "dashboard-clock");
            thread.setDaemon(true);
            return thread;
        });
    }

    public void start() {
        repeated = timer.scheduleWithFixedDelay(this::lookSafely, 1, 1, TimeUnit.SECONDS);
    }

    /** A failure once must not end the looking for good. */
    private void lookSafely() {
        try {
            look();
        } catch (RuntimeException e) {
            LOG.warn("the product's time could not be told", e);
        }
    }

    void look() {
        Instant now = clock.instant();
        long nanos = monotonicNanos.getAsLong();
        Duration expected = Duration.ofNanos(nanos - toldNanos);
        Duration off = Duration.between(told, now).minus(expected).abs();
        if (off.compareTo(TOLERATED) > 0) {
            told = now;
            toldNanos = nanos;
            hub.announceClock(data.get());
        }
    }

    @Override
    public void close() {
        if (repeated != null) {
            repeated.cancel(false);
        }
        timer.shutdownNow();
    }
}
