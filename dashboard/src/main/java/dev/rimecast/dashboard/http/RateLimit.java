package dev.rimecast.dashboard.http;

import io.javalin.http.Context;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.LongSupplier;

/**
 * At most so many requests a minute for each key, with a burst of as many (token bucket). The newest {@value #MOST} keys are
 * kept in memory; several processes count each for itself.
 */
public final class RateLimit {
    private static final int MOST = 10_000;
    private static final double MINUTE_NANOS = Duration.ofMinutes(1).toNanos();

    private record Bucket(double left, long nanos) {}

    private final int perMinute;
    private final LongSupplier monotonicNanos;
    private final Map<String, Bucket> buckets = new LinkedHashMap<>(64, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<String, Bucket> eldest) {
            return size() > MOST;
        }
    };

    public RateLimit(int perMinute, LongSupplier monotonicNanos) {
        this.perMinute = perMinute;
        this.monotonicNanos = monotonicNanos;
    }

    /** Counts a request. @throws ProblemException if there were too many (429) */
    public void check(Context ctx, String key) {
        long wait = waitSeconds(key);
        if (wait > 0) {
            ctx.header("Retry-After", String.valueOf(wait));
            throw new Problem(
                            429,
                            "too-many-requests",
                            "Too many requests",
                            "Try again in " + wait + " s.",
                            Map.of("retryAfterSeconds", wait))
                    .asException();
        }
    }

    /** Counts a request; returns 0, or the seconds to wait where it is one too many. */
    synchronized long waitSeconds(String key) {
        long now = monotonicNanos.getAsLong();
        Bucket known = buckets.get(key);
        double left = known == null
                ? perMinute
                : Math.min(perMinute, known.left() + (now - known.nanos()) / MINUTE_NANOS * perMinute);
        if (left < 1) {
            return (long) Math.ceil((1 - left) * 60 / perMinute);
        }
        buckets.put(key, new Bucket(left - 1, now));
        return 0;
    }
}
