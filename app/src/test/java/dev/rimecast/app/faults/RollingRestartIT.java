package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;

/**
 * The cluster of docker-compose.cluster.yml: everything is restarted under load, one after the other, and analytics goes from one
 * instance to three; then the sums. Gateways publish through the broker and have stores, so what counts is what their cumulative
 * acknowledgements cover. It needs a cluster that was brought up with FLEET=./deploy/cluster/proving.
 */
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class RollingRestartIT {
    private static final Duration HEAL = Duration.ofSeconds(150);
    private static final List<String> EACH =
            List.of("ingest-a", "ingest-b", "analytics-a", "analytics-b", "pages-a", "pages-b", "kafka-2");

    @TempDir(cleanup = CleanupMode.ON_SUCCESS)
    Path directory;

    /** Every pack that was acknowledged is in the log once by its number, every alert was raised once, none is lost. */
    @Test
    @Order(1)
    void everything_restartedUnderLoad_losesNothing_andRaisesOnce() throws Exception {
        RunningCluster cluster = RunningCluster.required();
        try (Generator generator = new Generator(directory.resolve("generator"), cluster.mqtt());
                PartitionProbe probe = new PartitionProbe(cluster.kafka())) {
            generator.start();
            ClusterSums.awaitCovered(generator, 20);
            probe.takeWorst();
            await().during(Duration.ofSeconds(15))
                    .atMost(Duration.ofSeconds(60))
                    .until(generator::isAlive);
            say("nothing is restarted", 15, probe);
            int live = 0;
            for (String service : EACH) {
                generator.hot(live++);
                double seconds = cluster.run("restart", service);
                generator.hot(live % LiveSites.ALL.size());
                ClusterSums.awaitCovered(generator, 0);
                say("restart of " + service, seconds, probe);
            }
            probe.close();
            assertThat(generator.drain(HEAL))
                    .as("everything sent is covered in the end")
                    .isTrue();
            // No tick comes any more: the log stands still.
            cluster.run("stop", "ingest-a", "ingest-b");
            ClusterSums sums = new ClusterSums(cluster.kafka(), cluster::rows);
            try {
                sums.awaitDecided();
                sums.hold("after a rolling restart", Accounts.read(generator.ledger()));
            } finally {
                cluster.run("start", "ingest-a", "ingest-b");
            }
        }
    }

    /** From one instance of analytics to three, and one of the three killed. */
    @Test
    @Order(2)
    void analytics_fromOneToThree_settlesWithinFiveMinutes() throws Exception {
        RunningCluster cluster = RunningCluster.required();
        try (PartitionProbe probe = new PartitionProbe(cluster.kafka())) {
            cluster.run("stop", "analytics-b");
            await().atMost(HEAL).ignoreExceptions().until(() -> probe.owners().size() == 1);
            await().during(Duration.ofSeconds(20))
                    .atMost(Duration.ofSeconds(60))
                    .until(() -> true);
            say("one instance stopped, one is left", 20, probe);
            long begun = System.nanoTime();
            cluster.run("start", "analytics-b");
            cluster.run("more");
            await().atMost(Duration.ofMinutes(5))
                    .pollInterval(Duration.ofMillis(500))
                    .ignoreExceptions()
                    .untilAsserted(() -> {
                        assertThat(probe.owners()).hasSize(3);
                        assertThat(probe.owners().values())
                                .allSatisfy(each -> assertThat(each).isBetween(3, 5));
                    });
            double settled = (System.nanoTime() - begun) / 1e9;
            await().during(Duration.ofSeconds(20))
                    .atMost(Duration.ofSeconds(60))
                    .until(() -> true);
            say("from one instance to three, " + probe.owners(), settled, probe);
            cluster.run("kill", "analytics-c");
            await().during(Duration.ofSeconds(40))
                    .atMost(Duration.ofSeconds(60))
                    .until(() -> true);
            say("one of three killed, " + probe.owners(), 40, probe);
        }
    }

    private static void say(String what, double seconds, PartitionProbe probe) {
        System.out.printf("cluster: %s: %.1f s; %s%n", what, seconds, PartitionProbe.inWords(probe.takeWorst()));
    }
}
