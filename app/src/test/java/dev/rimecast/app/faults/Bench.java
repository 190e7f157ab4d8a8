package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.analytics.stream.SiteLogReader;
import dev.rimecast.app.spine.Http;
import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** A server, its load and where its notices go, with faults done to them one after the other. */
final class Bench implements AutoCloseable {
    /** {@code -Dfaults.patience=4} waits four times as long, on a machine that has other work to do. */
    static final long PATIENCE = Long.getLong("faults.patience", 1);
    /** Of the heal after a fault; more than the longest wait of a gateway between two attempts. */
    private static final Duration HEAL = Duration.ofSeconds(90 * PATIENCE);

    private static final Duration START = Duration.ofSeconds(90 * PATIENCE);

    /** Lines of level ERROR that are how a fault looks from inside, each with why. */
    private static final Map<String, Pattern> EXPECTED_ERRORS = Map.of(
            "a thread that was paused is put out of its group and replaced",
            Pattern.compile("stream thread died and is replaced"));

    final ServeProcess serve;
    final Generator generator;
    final NoticeSinks sinks;
    private final List<Path> ledgers = new ArrayList<>();
    private final List<String> done = new ArrayList<>();
    private final long seed;
    private final List<Pattern> expected = new ArrayList<>(EXPECTED_ERRORS.values());
    private int forgiven;
    private @Nullable Http http;

    Bench(ServeProcess serve, Generator generator, NoticeSinks sinks, long seed) {
        this.serve = serve;
        this.generator = generator;
        this.sinks = sinks;
        this.seed = seed;
        ledgers.add(generator.ledger());
    }

    static void writeRegister(Path file) throws IOException {
        ToyFleet.writeRegister(file);
        Files.writeString(
                file,
                LiveSites.rows() + WildGateway.MACHINE + ',' + WildGateway.SITE + ',' + WildGateway.GATEWAY + '\n',
                java.nio.file.StandardOpenOption.APPEND);
    }

    /** How the fault of one test looks from inside. */
    void expectErrors(Pattern more) {
        expected.add(more);
    }

    /** What it said until now was about a fault that it can't bear; from here on it counts again. */
    void forgiveErrors() throws IOException {
        forgiven = errors().size();
    }

    void alsoRead(Path ledger) {
        ledgers.add(ledger);
    }

    Accounts accounts() throws IOException {
        return Accounts.read(ledgers.toArray(Path[]::new));
    }

    /** Starts server and load, and returns when the first packs have their receipts. */
    void start() throws Exception {
        serve.start();
        generator.start();
        awaitReceipts();
    }

    /** Returns when packs get receipts that had none before. */
    void awaitReceipts() throws Exception {
        int before = accounts().receipted().size();
        await().atMost(START)
                .pollInterval(Duration.ofMillis(100))
                .untilAsserted(() -> assertThat(accounts().receipted().size())
                        .as("receipts, %s", inWords())
                        .isGreaterThan(before));
    }

    /** Returns when the server says that it does all that it is there for; where a broker is between, receipts do not tell. */
    void awaitReady() {
        serve.awaitReady(START);
    }

    /** Lets so much time of the fault pass, in which the gateways must not fall over themselves. */
    void loadFor(Duration time) {
        await().during(time).atMost(time.plusSeconds(10)).until(generator::isAlive);
    }

    /** What a fault does, and undoes. */
    interface Fault {
        void run() throws Exception;
    }

    /**
     * Does one, waits until everything that had been sent by then is covered, and looks whether it is in the log.
     *
     * @param receiptsCount see {@link Invariants#acknowledgedIsStored}
     */
    void faultAndHeal(String name, boolean receiptsCount, Fault fault) throws Exception {
        long start = System.nanoTime();
        done.add(name);
        fault.run();
        long faulty = System.nanoTime();
        awaitCovered();
        Accounts now = accounts();
        new Invariants(inWords(), now, logs()).acknowledgedIsStored(receiptsCount);
        System.out.printf(
                "fault: %s: %.1f s, healed after %.1f s, %d packs sent, %d covered%n",
                name,
                (faulty - start) / 1e9,
                (System.nanoTime() - faulty) / 1e9,
                now.sent().size(),
                now.covered().size());
    }

    private void awaitCovered() throws Exception {
        var sent = List.copyOf(accounts().sent());
        await().atMost(HEAL).pollInterval(Duration.ofMillis(500)).untilAsserted(() -> {
            Accounts now = accounts();
            assertThat(sent.stream().filter(pack -> !now.isCovered(pack)).limit(5))
                    .as("sent before the heal and not covered, %s, %s", inWords(), now.inWords())
                    .isEmpty();
        });
    }

    /** The sites' logs as the server has them now. */
    private Map<String, List<SiteRecord>> logs() throws IOException {
        return logs(EmbeddedKafka.clientOf(serve.data().resolve("kafka")));
    }

    static Map<String, List<SiteRecord>> logs(Map<String, String> kafka) {
        Map<String, List<SiteRecord>> logs = new TreeMap<>();
        List<String> sites = new ArrayList<>(ToyFleet.SITES);
        sites.addAll(LiveSites.ALL);
        sites.add(WildGateway.SITE);
        sites.forEach(site -> logs.put(site, new SiteLogReader(kafka).read(site)));
        return logs;
    }

    /** As an administrator, whose account is made by the link that the last start printed. */
    Http http() throws IOException {
        Http known = http;
        if (known == null) {
            known = Http.setUp(serve.httpPort(), serve.output());
            http = known;
        }
        return known;
    }

    /** Ends the load and the server when nothing is under way any more. */
    void end() throws Exception {
        assertThat(generator.drain(Duration.ofSeconds(120 * PATIENCE)))
                .as(
                        "everything sent is covered in the end, %s, %s",
                        inWords(), accounts().inWords())
                .isTrue();
        Http http = http();
        try (Backlog backlog = Backlog.of(serve.data())) {
            String[] before = {""};
            await().atMost(Duration.ofSeconds(150 * PATIENCE))
                    .pollInterval(Duration.ofSeconds(2))
                    .untilAsserted(() -> {
                        assertThat(backlog.lines("rimecast-analytics", Topics.SITES, Topics.FINDINGS))
                                .as("I9 transactions that Kafka knows: %s", backlog.transactions())
                                .isEmpty();
                        String last = before[0];
                        before[0] = http.get("/api/v1/alerts?open=false&limit=1000");
                        assertThat(before[0]).startsWith("[");
                        assertThat(before[0].equals(last))
                                .as("alerts stand still")
                                .isTrue();
                    });
        }
        assertThat(serve.stop(Duration.ofSeconds(20 * PATIENCE)))
                .as("stops when told")
                .isTrue();
        assertThat(errors().stream().skip(forgiven))
                .as("I8 errors in the server's log, %s", inWords())
                .isEmpty();
    }

    private List<String> errors() throws IOException {
        return serve.allOutput()
                .lines()
                .filter(line -> line.contains(" ERROR "))
                .filter(line -> expected.stream().noneMatch(p -> p.matcher(line).find()))
                .toList();
    }

    String inWords() {
        return "after " + done + ", seed " + seed;
    }

    @Override
    public void close() throws Exception {
        generator.close();
        serve.close();
        sinks.close();
    }
}
