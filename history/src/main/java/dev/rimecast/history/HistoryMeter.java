package dev.rimecast.history;

import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.util.function.DoubleSupplier;
import java.util.function.ToDoubleFunction;

/** What the history has done, and what lies before it. Written by the stage's thread, read by scrapes. */
final class HistoryMeter {
    private final Counter taken;
    private final Counter unreadable;
    private final Counter failures;
    private volatile long bytes;
    private volatile int waiting;
    private volatile long waitingSince;
    private volatile DoubleSupplier lag = () -> Double.NaN;

    HistoryMeter(MeterRegistry registry) {
        taken = counter(registry, "records", "Records that are in files of the history");
        unreadable = counter(registry, "unreadable", "Records that nobody can read; the history leaves them out");
        failures = counter(registry, "failures", "Times that writing failed and began again from the files");
        gauge(registry, "bytes", "Size of the history's files", meter -> meter.bytes);
        gauge(registry, "waiting.records", "Records that were read and are in no file yet", meter -> meter.waiting);
        gauge(
                registry,
                "waiting.seconds",
                "How long the oldest of them has waited",
                meter -> meter.waiting == 0 ? 0 : (System.nanoTime() - meter.waitingSince) / 1e9);
        gauge(
                registry,
                "lag.records",
                "Records of the topics that have not been read yet; NaN while Kafka is not read",
                meter -> meter.lag.getAsDouble());
    }

    private static Counter counter(MeterRegistry registry, String name, String description) {
        return Counter.builder("rimecast.history." + name)
                .description(description)
                .register(registry);
    }

    private void gauge(MeterRegistry registry, String name, String description, ToDoubleFunction<HistoryMeter> value) {
        Gauge.builder("rimecast.history." + name, this, value)
                .description(description)
                .register(registry);
    }

    void wrote(int records, long ofThemUnreadable) {
        taken.increment(records);
        unreadable.increment(ofThemUnreadable);
    }

    void failed() {
        failures.increment();
    }

    void size(long ofFiles) {
        bytes = ofFiles;
    }

    /** @param sinceNanos by the monotonic clock; counts while there are any */
    void waiting(int records, long sinceNanos) {
        waitingSince = sinceNanos;
        waiting = records;
    }

    /** @param records asked at each scrape, from its thread */
    void reading(DoubleSupplier records) {
        lag = records;
    }

    void notReading() {
        lag = () -> Double.NaN;
    }
}
