package dev.rimecast.benchmarks.load;

import java.lang.management.ManagementFactory;
import javax.management.JMException;
import javax.management.ObjectName;

/**
 * How often the broker in this process has forced a log to disk, and how long that took. Each time it forces the log and both of its
 * indexes, whether they have changed or not.
 */
record Flushes(double count, double millis) {
    private static final String NAME = "kafka.log:type=LogFlushStats,name=LogFlushRateAndTimeMs";

    static Flushes now() {
        try {
            var beans = ManagementFactory.getPlatformMBeanServer();
            ObjectName name = new ObjectName(NAME);
            return new Flushes(
                    ((Number) beans.getAttribute(name, "Count")).doubleValue(),
                    ((Number) beans.getAttribute(name, "50thPercentile")).doubleValue());
        } catch (JMException e) {
            return new Flushes(Double.NaN, Double.NaN);
        }
    }

    Measure tell(Measure measure, Flushes before, double seconds) {
        return measure.with("logs forced to disk each second", (count - before.count) / seconds)
                .with("of which one takes, median ms", millis);
    }
}
