package dev.rimecast.alerts.consume;

import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.util.function.ToDoubleFunction;
import org.apache.kafka.clients.consumer.Consumer;
import org.apache.kafka.common.Metric;
import org.jspecify.annotations.Nullable;

/** What one reader has done, and how much lies before it. Received = taken in + dead letters. */
final class ReaderMeter {
    private final Counter taken;
    private final Counter dead;
    private volatile @Nullable Consumer<?, ?> reading;

    ReaderMeter(MeterRegistry meters, String topic) {
        taken = counter(meters, topic, "taken");
        dead = counter(meters, topic, "dead");
        ToDoubleFunction<ReaderMeter> lag = ReaderMeter::lagRecords;
        Gauge.builder("rimecast.alerts.lag", this, lag)
                .description("Records of the topic that are not in the database yet; NaN while Kafka is not read")
                .baseUnit("records")
                .tag("topic", topic)
                .register(meters);
    }

    private static Counter counter(MeterRegistry meters, String topic, String outcome) {
        return Counter.builder("rimecast.alerts.records")
                .description("Records that were read, by what became of them")
                .tag("topic", topic)
                .tag("outcome", outcome)
                .register(meters);
    }

    /** @param consumer that reads from now on; null: none */
    void reading(@Nullable Consumer<?, ?> consumer) {
        reading = consumer;
    }

    void taken(int records) {
        taken.increment(records);
    }

    void dead() {
        dead.increment();
    }

    /** As the consumer knows it since its last fetch. */
    private double lagRecords() {
        Consumer<?, ?> consumer = reading;
        if (consumer == null) {
            return Double.NaN;
        }
        double sum = 0;
        for (Metric metric : consumer.metrics().values()) {
            // the same name without a partition is another metric
            boolean isLag = metric.metricName().name().equals("records-lag")
                    && metric.metricName().tags().containsKey("partition");
            sum += isLag && metric.metricValue() instanceof Double lag && lag > 0 ? lag : 0;
        }
        return sum;
    }
}
