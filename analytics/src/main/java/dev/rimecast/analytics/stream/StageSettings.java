package dev.rimecast.analytics.stream;

import dev.rimecast.analytics.policy.Policy;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;

/**
 * What {@link AnalyticsStage} needs.
 *
 * @param kafka settings of Kafka Streams and its clients, at least {@code bootstrap.servers}; they win over ours
 * @param applicationId name of the consumer group and beginning of the changelog's name; the same for all instances
 * @param instanceId this instance's own name, the same after a restart: Kafka then waits for it instead of moving its
 *     partitions, and gives them back at once
 * @param stateDirectory of this instance alone
 * @param threads stream threads
 * @param commitInterval how long decisions wait at most before they can be seen
 * @param firstPolicy in force on a site until its log names another
 * @param several how it works beside others; empty where it is the only one
 */
public record StageSettings(
        Map<String, String> kafka,
        String applicationId,
        String instanceId,
        Path stateDirectory,
        int threads,
        Duration commitInterval,
        Policy firstPolicy,
        Optional<Several> several) {

    /** Of an installation on one machine. */
    public static final String APPLICATION_ID = "rimecast-analytics";
    /** Half of it is what a decision waits on average; shorter, and a busy machine does little but commit. */
    private static final Duration COMMIT_INTERVAL = Duration.ofMillis(200);

    /**
     * How one of several instances works.
     *
     * @param replication copies of the changelog in Kafka
     * @param minInSync how many of those must have a write before it counts
     * @param standbys other instances that hold an instance's state ready
     */
    public record Several(short replication, int minInSync, int standbys) {}

    /** The only instance. */
    public StageSettings(
            Map<String, String> kafka,
            String applicationId,
            String instanceId,
            Path stateDirectory,
            int threads,
            Duration commitInterval,
            Policy firstPolicy) {
        this(kafka, applicationId, instanceId, stateDirectory, threads, commitInterval, firstPolicy, Optional.empty());
    }

    public StageSettings {
        kafka = Map.copyOf(kafka);
        if (!kafka.containsKey("bootstrap.servers")) {
            throw new IllegalArgumentException("kafka must have bootstrap.servers, had " + kafka.keySet());
        }
        if (threads < 1) {
            throw new IllegalArgumentException("threads must be at least 1, was " + threads);
        }
        if (commitInterval.isNegative() || commitInterval.isZero()) {
            throw new IllegalArgumentException("commitInterval must be above 0, was " + commitInterval);
        }
    }

    /** One thread, commits every 200 ms, the policy that ships with this version. */
    public static StageSettings oneMachine(Map<String, String> kafka, Path stateDirectory) {
        return new StageSettings(
                kafka, APPLICATION_ID, "analytics-1", stateDirectory, 1, COMMIT_INTERVAL, Policy.standard());
    }

    /** As {@link #oneMachine}, one of several that share the sites' logs. */
    public static StageSettings oneOfSeveral(
            Map<String, String> kafka, String instance, Path stateDirectory, Several several) {
        return new StageSettings(
                kafka,
                APPLICATION_ID,
                "analytics-" + instance,
                stateDirectory,
                1,
                COMMIT_INTERVAL,
                Policy.standard(),
                Optional.of(several));
    }

    /** Without secrets. */
    @Override
    public String toString() {
        return "StageSettings[" + kafka.get("bootstrap.servers") + ", " + applicationId + ", " + instanceId + ']';
    }
}
