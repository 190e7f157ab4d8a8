package dev.rimecast.dashboard.fake;

import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;

/** What the stages of one process count, by the names of docs/operations.md. */
public final class FakeFigures {
    private final MeterRegistry meters;
    private final Map<String, Double> standing = new ConcurrentHashMap<>();

    FakeFigures(MeterRegistry meters) {
        this.meters = meters;
        stand("rimecast.ingest.in.flight.packs", 3);
        stand("rimecast.ingest.stalled.seconds", 0);
        stand("rimecast.analytics.lag", 0);
        stand("rimecast.analytics.behind.seconds", 38);
        stand("rimecast.alerts.lag", 2, "topic", "findings");
        stand("rimecast.alerts.lag", 40, "topic", "cycles");
        stand("rimecast.history.lag.records", 0);
        stand("rimecast.history.waiting.seconds", 75);
        pass(240);
    }

    /** So many readings go through every stage. */
    public void pass(int readings) {
        count("rimecast.ingest.messages.received", readings / 8.0);
        count("rimecast.ingest.records.received", readings);
        count("rimecast.ingest.records.stored", readings);
        count("rimecast.analytics.readings", readings, "outcome", "used");
        count("rimecast.alerts.records", readings / 4.0, "topic", "cycles", "outcome", "taken");
        count("rimecast.alerts.records", readings / 40.0, "topic", "findings", "outcome", "taken");
        count("rimecast.history.records", readings);
    }

    /** From now on this gauge stands so. */
    public void stand(String name, double value, String... labels) {
        String key = name + String.join(",", labels);
        if (standing.put(key, value) == null) {
            Gauge.builder(name, standing, all -> all.getOrDefault(key, Double.NaN))
                    .tags(labels)
                    .strongReference(true)
                    .register(meters);
        }
    }

    private void count(String name, double by, String... labels) {
        meters.counter(name, labels).increment(by);
    }
}
