package dev.rimecast.alerts.visits;

import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.function.LongSupplier;
import java.util.function.Supplier;

/**
 * Plans again when something that planning looks at has changed, and when half a day has begun. What one look misses,
 * e.g. a changed book of advice, the next one within {@code EVERY} sees.
 */
public final class VisitPass {
    private static final Duration EVERY = Duration.ofMinutes(15);
    /** Of real time, also where the product's own runs faster: planning looks at every open case. */
    private static final long LEAST_NANOS = Duration.ofSeconds(5).toNanos();

    private final Runnable plan;
    private final Supplier<String> mark;
    private final LongSupplier nanoTime;
    private String planned = "";
    private long plannedNanos;

    /** @param mark changes whenever something may have changed; what follows its last bar, when visits have */
    public VisitPass(Runnable plan, Supplier<String> mark, LongSupplier nanoTime) {
        this.plan = plan;
        this.mark = mark;
        this.nanoTime = nanoTime;
        this.plannedNanos = nanoTime.getAsLong() - LEAST_NANOS;
    }

    public void run(Instant now) {
        if (nanoTime.getAsLong() - plannedNanos < LEAST_NANOS) {
            return;
        }
        String found = mark(now);
        if (!found.equals(planned)) {
            plan.run();
            planned = seen(found, mark(now));
            plannedNanos = nanoTime.getAsLong();
        }
    }

    /** What has changed while it was planned is looked at the next time; what planning itself changed is not. */
    static String seen(String before, String after) {
        return withoutVisits(after).equals(withoutVisits(before)) ? after : before;
    }

    /** The last part of a mark is that of the visits. */
    private static String withoutVisits(String mark) {
        return mark.substring(0, mark.lastIndexOf('|') + 1);
    }

    private String mark(Instant now) {
        return at(now, mark.get());
    }

    /** A mark that also changes every quarter of an hour: what a day allows does, too. */
    public static String at(Instant now, String mark) {
        long quarter = now.truncatedTo(ChronoUnit.MINUTES).getEpochSecond() / EVERY.toSeconds();
        return quarter + "|" + mark;
    }
}
