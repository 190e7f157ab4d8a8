package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.app.spine.Http;
import java.lang.management.ManagementFactory;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.assertj.core.api.SoftAssertions;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;

/**
 * The cluster of docker-compose.cluster.yml: everything is restarted under load, one after the other, analytics goes from one
 * instance to three, and one is killed; then the sums, and the aims of docs/cluster.md. Gateways publish through the broker and have stores, so
 * what counts is what their cumulative acknowledgements cover. It needs a cluster that was brought up anew with FLEET=./deploy/cluster/proving.
 */
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class RollingRestartIT {
    /** No pack waits longer for its decision, whatever is done to one instance. */
    private static final Duration PAUSE = Duration.ofSeconds(10);
    /** Until all is as it should be after that. */
    private static final Duration SETTLED = Duration.ofMinutes(5);

    private static final Duration LOOK = Duration.ofSeconds(20);
    private static final List<String> EACH =
            List.of("ingest-a", "ingest-b", "analytics-a", "analytics-b", "pages-a", "pages-b", "kafka-2");

    /** Of both tests: a gateway's count goes on, and what the log has of the first is known in the second. */
    @TempDir(cleanup = CleanupMode.ON_SUCCESS)
    static Path directory;

    private final List<Step> steps = new ArrayList<>();

    /**
     * Something that was done to the cluster.
     *
     * @param settledSeconds until everything was as it should be
     * @param worstMillis the longest wait of a pack meanwhile, by partition
     */
    private record Step(String what, double settledSeconds, Map<Integer, Long> worstMillis) {}

    /** Every pack that was acknowledged is in the log once by its number, every alert was raised once, none is lost, and nobody notices. */
    @Test
    @Order(1)
    void everything_restartedUnderLoad_losesNothing_raisesOnce_andKeepsNobodyWaiting() throws Exception {
        RunningCluster cluster = RunningCluster.required();
        for (int port : cluster.kafkaPorts()) {
            assertThat(cluster.keys().refusesStrangers(port))
                    .as("Kafka at %d refuses who has no certificate", port)
                    .isTrue();
        }
        Http http = Http.setUp(cluster.pagesPort(), cluster.says("link"));
        try (Generator generator = new Generator(
                        directory.resolve("generator"),
                        cluster.mqtt(),
                        Optional.of(cluster.letIn(directory.resolve("gateways"))));
                PartitionProbe probe = new PartitionProbe(cluster.kafka());
                PageProbe pages = new PageProbe(http)) {
            generator.start();
            ClusterSums.awaitCovered(generator, 20);
            probe.takeWorst();
            loadFor(Duration.ofSeconds(15), generator);
            done("nothing is restarted", 15, probe);
            int live = 0;
            for (String service : EACH) {
                generator.hot(live++);
                long begun = System.nanoTime();
                double answered = cluster.run("restart", service);
                generator.hot(live % LiveSites.ALL.size());
                ClusterSums.awaitCovered(generator, 0);
                done("restart of %s, answers after %.1f s".formatted(service, answered), since(begun), probe);
            }
            probe.close();
            pages.close();
            sums(cluster, generator, "after a rolling restart");
            aims(probe);
            System.out.println("cluster: pages, behind the proxy: " + pages.inWords());
            assertThat(pages.bad())
                    .as("requests of somebody who is signed in, all the time")
                    .isEmpty();
        }
    }

    /** From one instance of analytics to three, and one of the three killed: nothing is lost here, either. */
    @Test
    @Order(2)
    void analytics_fromOneToThree_andOneKilled_settlesWithinFiveMinutes_andLosesNothing() throws Exception {
        RunningCluster cluster = RunningCluster.required();
        try (Generator generator = new Generator(
                        directory.resolve("generator"),
                        cluster.mqtt(),
                        Optional.of(cluster.letIn(directory.resolve("gateways"))));
                PartitionProbe probe = new PartitionProbe(cluster.kafka())) {
            int partitions = probe.partitions();
            generator.start();
            ClusterSums.awaitCovered(generator, 20);
            probe.takeWorst();
            long begun = System.nanoTime();
            cluster.run("stop", "analytics-b");
            double settled = awaitOwners(probe, begun, 1, partitions);
            generator.hot(8);
            loadFor(LOOK, generator);
            done("one of two instances of analytics stopped", settled, probe);

            begun = System.nanoTime();
            cluster.run("start", "analytics-b");
            cluster.run("more");
            settled = awaitOwners(probe, begun, 3, partitions / 3);
            generator.hot(9);
            loadFor(LOOK, generator);
            done("from one instance to three, " + probe.owners(), settled, probe);

            begun = System.nanoTime();
            cluster.run("kill", "analytics-c");
            generator.hot(10);
            settled = awaitOwners(probe, begun, 2, partitions / 2);
            generator.hot(11);
            loadFor(LOOK, generator);
            done("one of three killed, " + probe.owners(), settled, probe);
            probe.close();
            sums(cluster, generator, "after changes of analytics");
            aims(probe);
        }
    }

    /** Returns when so many instances have so many partitions each; since {@code begun}, seconds. */
    private static double awaitOwners(PartitionProbe probe, long begun, int instances, int partitionsEach) {
        await().atMost(SETTLED)
                .pollInterval(Duration.ofMillis(500))
                .ignoreExceptions()
                .untilAsserted(() -> assertThat(probe.owners().values())
                        .as("partitions of each instance")
                        .containsExactlyElementsOf(Collections.nCopies(instances, partitionsEach)));
        return since(begun);
    }

    private static void loadFor(Duration time, Generator generator) {
        await().during(time).atMost(time.plusSeconds(40)).until(generator::isAlive);
    }

    private static double since(long nanoTime) {
        return (System.nanoTime() - nanoTime) / 1e9;
    }

    /** Ends the load and does the sums of docs/reliability.md. */
    private static void sums(RunningCluster cluster, Generator generator, String after) throws Exception {
        assertThat(generator.drain(ClusterSums.HEAL))
                .as("everything sent is covered in the end")
                .isTrue();
        // No tick comes any more: the log stands still.
        cluster.run("stop", "ingest-a", "ingest-b");
        ClusterSums sums = new ClusterSums(cluster.kafka(), cluster::rows);
        try {
            sums.awaitDecided();
            sums.hold(after, Accounts.read(generator.ledger()));
        } finally {
            cluster.run("start", "ingest-a", "ingest-b");
        }
    }

    private void done(String what, double settledSeconds, PartitionProbe probe) {
        Step step = new Step(what, settledSeconds, probe.takeWorst());
        steps.add(step);
        System.out.printf(
                "cluster: %s: settled after %.1f s; %s; load average %.1f%n",
                what,
                settledSeconds,
                PartitionProbe.inWords(step.worstMillis()),
                ManagementFactory.getOperatingSystemMXBean().getSystemLoadAverage());
    }

    /** Of everything that was done, so that a failure has all figures. */
    private void aims(PartitionProbe probe) {
        SoftAssertions softly = new SoftAssertions();
        softly.assertThat(steps).as("what was done").isNotEmpty();
        for (Step step : steps) {
            softly.assertThat(step.worstMillis())
                    .as("partitions that were looked at, %s", step.what())
                    .hasSize(probe.partitions());
            softly.assertThat(step.worstMillis().values())
                    .as("waits, milliseconds by partition, %s", step.what())
                    .allMatch(millis -> millis < PAUSE.toMillis());
            softly.assertThat(step.settledSeconds())
                    .as("settled, seconds, %s", step.what())
                    .isLessThan(SETTLED.toSeconds());
        }
        softly.assertThat(probe.refused())
                .as("packs that Kafka did not take within a minute")
                .isEmpty();
        softly.assertAll();
    }
}
