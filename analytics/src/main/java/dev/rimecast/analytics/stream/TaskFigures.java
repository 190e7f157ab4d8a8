package dev.rimecast.analytics.stream;

import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.InstantSource;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.ToDoubleFunction;

/**
 * How far the tasks of this process are and how much they keep, for whoever scrapes. Each task writes its own figures, scrapes read
 * them from other threads; nothing is summed on the way of a record.
 */
final class TaskFigures {
    private final Map<String, Task> tasks = new ConcurrentHashMap<>();
    private final InstantSource wall;

    /** What one task says of itself. */
    static final class Task {
        private volatile long reachedMillis;
        private volatile int sites;
        private volatile LiveMonitors.StateSize state = LiveMonitors.StateSize.NONE;

        /** @param millis when the record was written that is done now */
        void reached(long millis) {
            reachedMillis = millis;
        }

        void keeps(int ofSites, LiveMonitors.StateSize size) {
            sites = ofSites;
            state = size;
        }
    }

    /** @param wall what Kafka's records are stamped by: the real time, whatever the machines' time is */
    TaskFigures(MeterRegistry registry, InstantSource wall) {
        this.wall = wall;
        gauge(
                registry,
                "behind.seconds",
                "Age of the record that the partition furthest behind has reached; NaN without one",
                of -> behind());
        gauge(registry, "tasks", "Partitions of the sites' logs that this process works on", of -> tasks.size());
        gauge(registry, "sites", "Sites whose state this process keeps", of -> sum(task -> task.sites));
        gauge(
                registry,
                "state.entries",
                "Machines, gateways and sites in that state",
                of -> sum(task -> task.state.entries()));
        gauge(
                registry,
                "state.bytes",
                "Size of that state as it is stored, looked at every minute",
                of -> sum(task -> task.state.bytes()));
    }

    private void gauge(MeterRegistry registry, String name, String description, ToDoubleFunction<TaskFigures> value) {
        Gauge.builder("rimecast.analytics." + name, this, value)
                .description(description)
                .strongReference(true)
                .register(registry);
    }

    /** A task has begun, perhaps anew; until its first record it has reached now. */
    Task begin(String id) {
        Task task = new Task();
        task.reached(wall.millis());
        tasks.put(id, task);
        return task;
    }

    /** It has ended, unless it has begun anew meanwhile. */
    void end(String id, Task task) {
        tasks.remove(id, task);
    }

    private double sum(ToDoubleFunction<Task> of) {
        return tasks.values().stream().mapToDouble(of).sum();
    }

    /** Each minute brings a tick to every partition, so whoever keeps up is a minute behind at most. */
    private double behind() {
        return tasks.values().stream().mapToLong(task -> task.reachedMillis).min().stream()
                .mapToDouble(reached -> Math.max(0, wall.millis() - reached) / 1e3)
                .findFirst()
                .orElse(Double.NaN);
    }
}
