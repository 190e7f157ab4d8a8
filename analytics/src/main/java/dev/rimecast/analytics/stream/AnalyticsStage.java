package dev.rimecast.analytics.stream;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.telemetry.log.Topics;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.Duration;
import java.util.concurrent.atomic.AtomicBoolean;
import org.apache.kafka.common.Metric;
import org.apache.kafka.common.MetricName;
import org.apache.kafka.streams.CloseOptions;
import org.apache.kafka.streams.CloseOptions.GroupMembershipOperation;
import org.apache.kafka.streams.KafkaStreams;

/**
 * Turns the sites' logs into cycles and findings, each exactly once, over stops and kills. The topics of the contract
 * must be there. Consumers of what it writes read committed.
 *
 * <p>Conservation: {@code stored = used + repeated + late + conflicting + unregistered}; a record that can't be
 * processed is a dead letter, and counted.
 */
public final class AnalyticsStage implements AutoCloseable {
    private static final Duration CLOSE_LIMIT = Duration.ofSeconds(10);

    private final KafkaStreams streams;
    private final ThreadReplacement threads;
    /** What is left to others when this one stops: its partitions at once, or nothing where there are no others. */
    private final GroupMembershipOperation membership;

    private final AtomicBoolean closed = new AtomicBoolean();

    private AnalyticsStage(KafkaStreams streams, ThreadReplacement threads, boolean isOneOfSeveral) {
        this.streams = streams;
        this.threads = threads;
        this.membership =
                isOneOfSeveral ? GroupMembershipOperation.LEAVE_GROUP : GroupMembershipOperation.REMAIN_IN_GROUP;
    }

    /** Starts and returns at once; {@link #health()} tells when it runs. Kafka need not answer yet. */
    public static AnalyticsStage start(StageSettings settings, MeterRegistry registry) {
        return start(settings, registry, SiteMonitor::accept);
    }

    static AnalyticsStage start(StageSettings settings, MeterRegistry registry, MonitorStep step) {
        StageCounters counters = new StageCounters(registry);
        KafkaStreams streams = new KafkaStreams(
                SiteTopology.of(settings.firstPolicy(), step, counters), StreamsProperties.of(settings, counters));
        ThreadReplacement threads = new ThreadReplacement(System::nanoTime);
        streams.setUncaughtExceptionHandler(threads);
        AnalyticsStage stage =
                new AnalyticsStage(streams, threads, settings.several().isPresent());
        Gauge.builder("rimecast.analytics.lag", stage, AnalyticsStage::lagRecords)
                .description("Records of the sites' logs that are not processed yet")
                .baseUnit("records")
                .register(registry);
        streams.start();
        return stage;
    }

    /** How it is now. */
    public StageHealth health() {
        return switch (streams.state()) {
            case RUNNING -> new StageHealth(StageHealth.State.RUNNING, "");
            case CREATED, REBALANCING ->
                new StageHealth(
                        StageHealth.State.REBALANCING,
                        threads.lastFailure().isEmpty() ? "waiting for partitions" : threads.lastFailure());
            case PENDING_SHUTDOWN, NOT_RUNNING -> new StageHealth(StageHealth.State.CLOSED, "closed");
            case PENDING_ERROR, ERROR ->
                closed.get()
                        ? new StageHealth(StageHealth.State.CLOSED, "closed")
                        : new StageHealth(StageHealth.State.FAILED, threads.lastFailure());
        };
    }

    /** Records that are in the sites' logs and not processed yet, as far as this instance knows. */
    public double lagRecords() {
        double sum = 0;
        for (var entry : streams.metrics().entrySet()) {
            sum += lagIn(entry.getKey(), entry.getValue());
        }
        return sum;
    }

    private static double lagIn(MetricName name, Metric metric) {
        boolean isLag = name.name().equals("records-lag")
                && Topics.SITES.equals(name.tags().get("topic"));
        return isLag && metric.metricValue() instanceof Double lag && lag > 0 ? lag : 0;
    }

    /** Whether it can go on by itself; one that has failed takes a restart of the process. */
    public boolean isAlive() {
        return health().state() != StageHealth.State.FAILED;
    }

    /** Takes no more records until {@link #goOn}; what is under way is finished and committed within the commit interval. */
    public void rest() {
        streams.pause();
    }

    /** Ends a {@link #rest}. */
    public void goOn() {
        streams.resume();
    }

    /**
     * Finishes the transaction that is open and stops. The only instance keeps its place in the group, for its next start; one of
     * several gives its partitions to the others.
     */
    @Override
    public void close() {
        closed.set(true);
        streams.close(CloseOptions.timeout(CLOSE_LIMIT).withGroupMembershipOperation(membership));
    }
}
