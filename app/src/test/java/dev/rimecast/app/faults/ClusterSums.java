package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import java.time.Duration;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;

/** The sums after faults, of parts that run outside this process; the numbers are those of docs/reliability.md. */
final class ClusterSums {
    static final Duration HEAL = Duration.ofSeconds(150 * Bench.PATIENCE);

    /** What the database answers, as text. */
    @FunctionalInterface
    interface Database {
        List<List<String>> rows(String sql) throws Exception;
    }

    private final Map<String, String> kafka;
    private final Database database;

    ClusterSums(Map<String, String> kafka, Database database) {
        this.kafka = kafka;
        this.database = database;
    }

    /** Ends with an assertion that failed, or says what it came to. @param after what was done, for the message of a failure */
    void hold(String after, Accounts accounts) throws Exception {
        Map<String, List<SiteRecord>> logs = Bench.logs(kafka);
        List<Finding> findings = Aftermath.values(kafka, Topics.FINDINGS, FindingJson::decode).stream()
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
        new Invariants(after, accounts, logs)
                .acknowledgedIsStored(false)
                .everythingSentIsStored()
                .contentIsWhatWasSent()
                .decidedOnce(findings, Aftermath.states(kafka))
                .raisedOnce(database)
                .oneVisitForEachNeed(database);
        Set<String> raised = findings.stream()
                .map(finding -> finding.id().toString())
                .collect(Collectors.toCollection(LinkedHashSet::new));
        List<String> alerts = column("select id from alert where site not like 'probe-%'");
        assertThat(alerts).as("I3 one alert for each finding").containsExactlyInAnyOrderElementsOf(raised);
        assertThat(column("select id from log_outbox"))
                .as("I7 outbox of the logs")
                .isEmpty();
        System.out.printf(
                "sums: %d packs sent, all covered; in the log %d by number, %d of them came more than once and were taken"
                        + " once; %d records of packs; %d findings, %d alerts%n",
                accounts.sent().size(), numbers.size(), twice.size(), records[0], findings.size(), alerts.size());
    }

    private List<String> column(String sql) throws Exception {
        return database.rows(sql).stream().map(row -> row.get(0)).toList();
    }

    /** Returns when everything that was sent by now is covered. @param atLeast packs that must have been sent */
    static void awaitCovered(Generator generator, int atLeast) throws Exception {
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

    /** Returns when analytics has decided on everything and the alerts stand still. */
    void awaitDecided() throws Exception {
        try (Backlog backlog = Backlog.of(kafka)) {
            String[] before = {""};
            await().atMost(HEAL).pollInterval(Duration.ofSeconds(2)).untilAsserted(() -> {
                assertThat(backlog.lines(PartitionProbe.GROUP, Topics.SITES, Topics.FINDINGS))
                        .isEmpty();
                String last = before[0];
                before[0] = database.rows("select count(*), sum(version), (select count(*) from log_outbox) from alert")
                        .toString();
                assertThat(before[0]).as("alerts stand still").isEqualTo(last);
            });
        }
    }
}
