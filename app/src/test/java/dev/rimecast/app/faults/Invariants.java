package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;

/**
 * What must hold after faults, by the arithmetic of sets over the ledgers, Kafka's topics from their beginning, the database,
 * and what arrived by mail and webhook. The numbers are those of docs/reliability.md.
 */
final class Invariants {
    private final String after;
    private final Accounts accounts;
    private final Map<String, List<SiteRecord>> logs;

    /**
     * @param after what was done and with which seed, for the message of a failure
     * @param logs of every site
     */
    Invariants(String after, Accounts accounts, Map<String, List<SiteRecord>> logs) {
        this.after = after;
        this.accounts = accounts;
        this.logs = logs;
    }

    /** What was promised and is not there. */
    Set<Accounts.Pack> acknowledgedAndGone(boolean receiptsCount) {
        Set<Accounts.Pack> promised = new HashSet<>(accounts.covered());
        if (receiptsCount) {
            promised.addAll(accounts.receipted());
        }
        promised.removeAll(stored());
        return promised;
    }

    /** I1: what was acknowledged is in the log. Behind a broker its receipt promises nothing. */
    Invariants acknowledgedIsStored(boolean receiptsCount) {
        assertThat(acknowledgedAndGone(receiptsCount))
                .as("I1 acknowledged and not stored, %s", after)
                .isEmpty();
        assertThat(accounts.changedContent()).as("one number, one content").isEmpty();
        return this;
    }

    /** Nothing that a store still held is lost: everything that was sent is stored and covered, with its own content. */
    Invariants everythingSentIsStored() {
        Set<Accounts.Pack> missing = new HashSet<>(accounts.sent());
        missing.removeAll(stored());
        assertThat(missing).as("sent and not stored, %s", after).isEmpty();
        assertThat(accounts.uncovered()).as("sent and not covered, %s", after).isEmpty();
        return this;
    }

    private Set<Accounts.Pack> stored() {
        Set<Accounts.Pack> stored = new HashSet<>();
        logs.values()
                .forEach(log -> log.forEach(entry -> {
                    if (entry instanceof SiteRecord.Pack pack) {
                        pack.number()
                                .ifPresent(number ->
                                        stored.add(new Accounts.Pack(pack.gateway(), number.boot(), number.seq())));
                    }
                }));
        return stored;
    }

    /** Of gateways whose content is a function of the number: the log has, byte for byte, what was sent. */
    Invariants contentIsWhatWasSent() {
        ToyFleet.SITES.forEach(site -> logs.getOrDefault(site, List.of()).forEach(entry -> {
            if (entry instanceof SiteRecord.Pack pack && pack.number().isPresent()) {
                String boot = pack.number().get().boot();
                long seq = pack.number().get().seq();
                Accounts.Pack name = new Accounts.Pack(pack.gateway(), boot, seq);
                assertThat(Ledger.sha256(SenmlJsonEncoder.encode(pack.readings())))
                        .as("content of %s, %s", name, after)
                        .isEqualTo(accounts.sha256(name));
            }
        }));
        return this;
    }

    /** I2 and I3: state and findings are those of one thread that never stopped. */
    Invariants decidedOnce(List<Finding> findings, Map<String, Map<String, byte[]>> states) {
        List<Finding> oracle = new ArrayList<>();
        logs.forEach((site, log) -> {
            Oracle of = Oracle.of(site, log);
            oracle.addAll(of.findings);
            Map<String, byte[]> live = new TreeMap<>(states.getOrDefault(site, Map.of()));
            assertThat(live.keySet())
                    .as("parts of the state of %s, %s", site, after)
                    .isEqualTo(of.states.keySet());
            of.states.forEach((part, bytes) -> assertThat(live.get(part))
                    .as("I2 state '%s' of %s, %s", part, site, after)
                    .isEqualTo(bytes));
        });
        assertThat(findings.stream().map(finding -> finding.id() + "/" + finding.revision()))
                .as("every revision once, %s", after)
                .doesNotHaveDuplicates();
        assertThat(findings).as("I3 findings, %s", after).containsExactlyInAnyOrderElementsOf(oracle);
        return this;
    }

    /** I3 and I4: one alert for each finding that was raised, and no two of a kind open at once. */
    Invariants alertsAreThoseOf(List<Finding> findings, List<AlertView> alerts) {
        assertThat(alerts.stream().map(alert -> alert.finding().id()))
                .as("I3 alerts, %s", after)
                .containsExactlyInAnyOrderElementsOf(findings.stream()
                        .map(Finding::id)
                        .collect(Collectors.toCollection(java.util.LinkedHashSet::new)));
        Map<String, List<AlertView>> byKind = new HashMap<>();
        alerts.forEach(alert -> byKind.computeIfAbsent(
                        alert.finding().site()
                                + ' '
                                + alert.finding().machine()
                                + ' '
                                + alert.finding().gateway()
                                + ' '
                                + alert.finding().condition(),
                        kind -> new ArrayList<>())
                .add(alert));
        byKind.forEach((kind, episodes) -> {
            episodes.sort(
                    java.util.Comparator.comparing(alert -> alert.finding().raisedAt()));
            for (int i = 1; i < episodes.size(); i++) {
                Instant cleared = episodes.get(i - 1).clearedAt().orElse(Instant.MAX);
                assertThat(episodes.get(i).finding().raisedAt())
                        .as("I4 an episode of %s begins before the last one has ended, %s", kind, after)
                        .isAfterOrEqualTo(cleared);
            }
        });
        return this;
    }

    /** I4: whatever was read again after a fault, no alert's audit says a second time that it was raised. */
    Invariants raisedOnce(ClusterSums.Database database) throws Exception {
        assertThat(database.rows("select alert from alert_audit where what = 'raised' limit 1"))
                .as("I4 some were raised, %s", after)
                .isNotEmpty();
        assertThat(
                        database.rows(
                                "select alert, count(*) from alert_audit where what = 'raised' group by alert having count(*) > 1"))
                .as("I4 alerts that were raised twice, %s", after)
                .isEmpty();
        return this;
    }

    /**
     * I6: the open visits are for the open cases that have an alert which is there and counts, each of them once. All dates of this load are
     * near, so none waits for its horizon. What visits are planned from may have changed just now.
     */
    Invariants oneVisitForEachNeed(ClusterSums.Database database) {
        await().atMost(ClusterSums.HEAL).pollInterval(Duration.ofSeconds(1)).untilAsserted(() -> {
            List<String> needs = column(
                    database,
                    "select c.id from alert_case c where c.closed_at is null and exists (select 1"
                            + " from alert a where a.case_id = c.id and a.cleared_at is null"
                            + " and a.state in ('unacknowledged', 'acknowledged'))");
            assertThat(needs).as("I6 somebody must go somewhere, %s", after).isNotEmpty();
            assertThat(column(
                            database,
                            "select n.ref from visit_need n join visit v on v.id = n.visit"
                                    + " where n.kind = 'case' and v.state in ('proposed', 'accepted')"))
                    .as("I6 cases that open visits are for, %s", after)
                    .containsExactlyInAnyOrderElementsOf(needs);
        });
        return this;
    }

    private static List<String> column(ClusterSums.Database database, String sql) throws Exception {
        return database.rows(sql).stream().map(row -> row.get(0)).toList();
    }

    /** I5 and I7: of each live alert one notice on each channel, arrived under its own id, and nothing left to send. */
    Invariants everybodyIsTold(ClusterSums.Database store, NoticeSinks sinks, int liveAlerts) throws Exception {
        assertThat(store.rows("select id, state from notice_delivery where state <> 'sent'"))
                .as("I7 notices that have not left, %s", after)
                .isEmpty();
        assertThat(store.rows("select id from log_outbox"))
                .as("I7 outbox of the logs, %s", after)
                .isEmpty();
        Set<String> mails = ids(store, "mail");
        Set<String> posts = ids(store, "webhook");
        assertThat(new HashSet<>(sinks.mailed())).as("I5 mails, %s", after).isEqualTo(mails);
        assertThat(sinks.posted().keySet()).as("I5 posts, %s", after).isEqualTo(posts);
        sinks.posted()
                .forEach((id, bodies) -> assertThat(new HashSet<>(bodies))
                        .as("a repeat of %s says the same, %s", id, after)
                        .hasSize(1));
        List<List<String>> told = store.rows(
                "select a.site, d.channel, count(distinct d.id) from alert a join notice_matter m on m.case_id = a.case_id"
                        + " join notice_delivery d on d.matter = m.id where d.kind = 'raised' and a.site like 'live-%'"
                        + " and a.condition = 'high-condensing-temperature'"
                        + " group by a.site, d.channel");
        assertThat(told).as("I5 sites told by channel, %s", after).hasSize(2 * liveAlerts);
        assertThat(told)
                .as("I5 each once")
                .allSatisfy(row -> assertThat(row.get(2)).isEqualTo("1"));
        return this;
    }

    private static Set<String> ids(ClusterSums.Database store, String channel) throws Exception {
        // What went in the mail of another one arrived by that one's id.
        return store
                .rows("select distinct coalesce(goes_with, id) from notice_delivery where channel = '" + channel + "'")
                .stream()
                .map(row -> row.get(0))
                .collect(Collectors.toSet());
    }

    /** I10: every poison is among the rejects, once, and nothing else is; and analytics could read all of it. */
    Invariants poisonIsPutAside(List<Poison> poison, Aftermath store) {
        List<String> sent =
                poison.stream().map(one -> Ledger.sha256(one.payload())).toList();
        assertThat(store.rejects().stream().map(Ledger::sha256))
                .as("I10 rejects against poison, %s", after)
                .containsExactlyInAnyOrderElementsOf(sent);
        assertThat(store.deadLetters())
                .as("I10 dead letters of analytics, %s", after)
                .isEmpty();
        return this;
    }
}
