package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import java.nio.file.Path;
import java.time.Duration;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
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
            awaitCovered(generator, 20);
            probe.takeWorst();
            await().during(Duration.ofSeconds(15))
                    .atMost(Duration.ofSeconds(20))
                    .until(generator::isAlive);
            say("nothing is restarted", 15, probe);
            int live = 0;
            for (String service : EACH) {
                generator.hot(live++);
                double seconds = cluster.run("restart", service);
                generator.hot(live % LiveSites.ALL.size());
                awaitCovered(generator, 0);
                say("restart of " + service, seconds, probe);
            }
            probe.close();
            assertThat(generator.drain(HEAL))
                    .as("everything sent is covered in the end")
                    .isTrue();
            // No tick comes any more: the log stands still.
            cluster.run("stop", "ingest-a", "ingest-b");
            try {
                awaitDecided(cluster);
                sums(cluster, Accounts.read(generator.ledger()));
            } finally {
                cluster.run("start", "ingest-a", "ingest-b");
            }
        }
    }

    private static void sums(RunningCluster cluster, Accounts accounts) throws Exception {
        Map<String, List<SiteRecord>> logs = Bench.logs(cluster.kafka());
        List<Finding> findings = Aftermath.values(cluster.kafka(), Topics.FINDINGS, FindingJson::decode).stream()
                .filter(finding -> logs.containsKey(finding.site()))
                .toList();
        int[] records = {0};
        Set<String> numbers = new HashSet<>();
        Set<String> twice = new HashSet<>();
        logs.values()
                .forEach(log -> log.forEach(entry -> {
                    if (entry instanceof SiteRecord.Pack pack && pack.number().isPresent()) {
                        records[0]++;
                        String number = pack.gateway() + ' ' + pack.number().get();
                        if (!numbers.add(number)) {
                            twice.add(number);
                        }
                    }
                }));
        new Invariants("after a rolling restart", accounts, logs)
                .acknowledgedIsStored(false)
                .everythingSentIsStored()
                .contentIsWhatWasSent()
                .decidedOnce(findings, Aftermath.states(cluster.kafka()));
        Set<String> raised = findings.stream()
                .map(finding -> finding.id().toString())
                .collect(Collectors.toCollection(LinkedHashSet::new));
        List<String> alerts = column(cluster, "select id from alert where site not like 'probe-%'");
        assertThat(alerts).as("I3 one alert for each finding").containsExactlyInAnyOrderElementsOf(raised);
        List<String> steps = column(
                cluster, "select count(*) from alert_audit where what = 'raised' group by alert having count(*) > 1");
        assertThat(steps).as("alerts that were raised twice").isEmpty();
        assertThat(column(cluster, "select id from log_outbox"))
                .as("I7 outbox of the logs")
                .isEmpty();
        System.out.printf(
                "cluster: %d packs sent, all covered; in the log %d by number, %d of them came more than once and were taken"
                        + " once; %d records of packs; %d findings, %d alerts%n",
                accounts.sent().size(), numbers.size(), twice.size(), records[0], findings.size(), alerts.size());
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
                    .atMost(Duration.ofSeconds(25))
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
                    .atMost(Duration.ofSeconds(25))
                    .until(() -> true);
            say("from one instance to three, " + probe.owners(), settled, probe);
            cluster.run("kill", "analytics-c");
            await().during(Duration.ofSeconds(40))
                    .atMost(Duration.ofSeconds(45))
                    .until(() -> true);
            say("one of three killed, " + probe.owners(), 40, probe);
        }
    }

    private static List<String> column(RunningCluster cluster, String sql) throws Exception {
        return cluster.rows(sql).stream().map(row -> row.get(0)).toList();
    }

    private static void say(String what, double seconds, PartitionProbe probe) {
        System.out.printf("cluster: %s: %.1f s; %s%n", what, seconds, PartitionProbe.inWords(probe.takeWorst()));
    }

    /** @param atLeast packs that must have been sent */
    private static void awaitCovered(Generator generator, int atLeast) throws Exception {
        await().atMost(HEAL)
                .pollInterval(Duration.ofMillis(500))
                .untilAsserted(() -> assertThat(
                                Accounts.read(generator.ledger()).covered().size())
                        .isGreaterThanOrEqualTo(atLeast));
        Set<Accounts.Pack> sent = Set.copyOf(Accounts.read(generator.ledger()).sent());
        await().atMost(HEAL).pollInterval(Duration.ofMillis(500)).untilAsserted(() -> {
            Accounts now = Accounts.read(generator.ledger());
            assertThat(sent.stream().filter(pack -> !now.isCovered(pack)).limit(5))
                    .as("sent before the heal and not covered, %s", now.inWords())
                    .isEmpty();
        });
    }

    private static void awaitDecided(RunningCluster cluster) throws Exception {
        try (Backlog backlog = Backlog.of(cluster.kafka())) {
            String[] before = {""};
            await().atMost(HEAL).pollInterval(Duration.ofSeconds(2)).untilAsserted(() -> {
                assertThat(backlog.lines(PartitionProbe.GROUP, Topics.SITES, Topics.FINDINGS))
                        .isEmpty();
                String last = before[0];
                before[0] = cluster.rows("select count(*), sum(version), (select count(*) from log_outbox) from alert")
                        .toString();
                assertThat(before[0]).as("alerts stand still").isEqualTo(last);
            });
        }
    }
}
