package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;

/**
 * The whole product under load, with one fault after the other, and then the sums. The short set runs with every
 * {@code mvn verify}; {@code -Dfaults=long} runs a hundred kills, {@code -Dfaults.kills} any number. {@code -Dfaults.seed} gives other moments.
 */
class FaultsIT {
    private static final long SEED = Long.getLong("faults.seed", 20261128);
    private static final int KILLS =
            Integer.getInteger("faults.kills", "long".equals(System.getProperty("faults")) ? 100 : 3);
    /** Of the kills, those that take the database's server, too. */
    private static final int WITH_DATABASE = 3;

    private static final Duration PAUSE = Duration.ofSeconds(10);
    private static final Duration SPOILED = Duration.ofSeconds(8);
    private static final int SHUFFLED_PACKS = 400;

    /** Kept after a failure: everything that happened is in it. */
    @TempDir(cleanup = CleanupMode.ON_SUCCESS)
    Path directory;

    private final Random random = new Random(SEED);
    private int hot;

    @Test
    void faults_oneAfterTheOther_loseNothing_andDecideNothingTwice() throws Exception {
        NoticeSinks sinks = new NoticeSinks();
        sinks.write(directory.resolve("notices.yaml"));
        Bench.writeRegister(directory.resolve("machines.csv"));
        ServeProcess serve =
                ServeProcess.with(directory, "fleet:\n  register: machines.csv\nnotices:\n  file: notices.yaml\n");
        List<Poison> poison = new ArrayList<>();
        Path wildLedger = directory.resolve("wild-ledger");
        try (FaultProxy line = new FaultProxy(serve.mqttPort());
                Bench bench = new Bench(
                        serve,
                        new Generator(directory.resolve("generator"), "tcp://127.0.0.1:" + line.port()),
                        sinks,
                        SEED)) {
            bench.start();
            kills(bench);
            pause(bench);
            lines(bench, line);
            bench.faultAndHeal("kill of the gateways", true, () -> {
                bench.generator.kill();
                bench.generator.start();
                bench.awaitReceipts();
            });
            bench.alsoRead(wildLedger);
            bench.faultAndHeal(
                    "repeats, shuffle, late, wrong clocks, poison",
                    true,
                    () -> poison.addAll(misbehave(serve.mqttPort(), wildLedger)));
            awaitNotices(bench);
            bench.end();
            sums(bench, poison);
        }
    }

    private void kills(Bench bench) throws Exception {
        for (int kill = 1; kill <= KILLS; kill++) {
            boolean withDatabase = kill % WITH_DATABASE == 0;
            String name = "kill " + kill + (withDatabase ? " with the database" : "");
            bench.faultAndHeal(name, true, () -> {
                sayHot(bench);
                bench.loadFor(Duration.ofMillis(300 + random.nextInt(4_000)));
                if (withDatabase) {
                    bench.serve.killWithDatabase();
                } else {
                    bench.serve.kill();
                }
                bench.serve.start();
                bench.awaitReceipts();
            });
        }
    }

    private void pause(Bench bench) throws Exception {
        sayHot(bench);
        bench.faultAndHeal("pause of " + PAUSE.toSeconds() + " s", true, () -> {
            bench.serve.pause();
            bench.loadFor(PAUSE);
            bench.serve.goOn();
            bench.awaitReceipts();
        });
    }

    private void lines(Bench bench, FaultProxy line) throws Exception {
        for (FaultProxy.Mode mode : FaultProxy.Mode.values()) {
            if (mode != FaultProxy.Mode.PASS) {
                bench.faultAndHeal("line: " + mode, true, () -> {
                    sayHot(bench);
                    line.be(mode);
                    bench.loadFor(SPOILED);
                    line.be(FaultProxy.Mode.PASS);
                });
            }
        }
    }

    private List<Poison> misbehave(int port, Path ledger) throws Exception {
        try (WildGateway wild = new WildGateway(port, ledger, SEED)) {
            Instant now = Instant.now();
            wild.repeatsAndShuffles(SHUFFLED_PACKS, now.minus(Duration.ofHours(8)), random);
            wild.comesLate(now);
            List<Poison> sent = wild.sendsPoison(now);
            assertThat(wild.isCutOffForAMegabyte())
                    .as("a megabyte ends its own connection only")
                    .isTrue();
            await().atMost(Duration.ofSeconds(60))
                    .untilAsserted(() -> assertThat(Accounts.read(ledger).uncovered())
                            .as("numbered packs, poison included, are covered")
                            .isEmpty());
            return sent;
        }
    }

    /** Another live site gets too hot, of which somebody is to be told. */
    private void sayHot(Bench bench) throws Exception {
        if (hot < LiveSites.ALL.size()) {
            bench.generator.hot(hot);
            hot++;
        }
    }

    private void awaitNotices(Bench bench) {
        await().atMost(Duration.ofSeconds(60)).untilAsserted(() -> {
            assertThat(bench.sinks.posted()).as("I7 posts").hasSizeGreaterThanOrEqualTo(hot);
            assertThat(bench.sinks.mailed()).as("I7 mails").hasSizeGreaterThanOrEqualTo(hot);
        });
    }

    private void sums(Bench bench, List<Poison> poison) throws Exception {
        try (Aftermath store = Aftermath.of(bench.serve.data())) {
            var findings = store.findings();
            assertThat(findings).as("the load raises alerts").hasSizeGreaterThan(20);
            new Invariants(bench.inWords(), bench.accounts(), Bench.logs(store.kafka()))
                    .acknowledgedIsStored(true)
                    .everythingSentIsStored()
                    .contentIsWhatWasSent()
                    .decidedOnce(findings, store.states())
                    .alertsAreThoseOf(findings, store.alerts())
                    .raisedOnce(store::rows)
                    .oneVisitForEachNeed(store::rows)
                    .everybodyIsTold(store::rows, bench.sinks, hot)
                    .poisonIsPutAside(poison, store);
            System.out.printf(
                    "faults: %d kills, %d packs, %d findings, %d alerts, %d mails and %d posts of %d notices each, %d poisons; %s%n",
                    KILLS,
                    bench.accounts().sent().size(),
                    findings.size(),
                    store.alerts().size(),
                    bench.sinks.mailed().size(),
                    bench.sinks.posted().values().stream().mapToInt(List::size).sum(),
                    bench.sinks.posted().size(),
                    poison.size(),
                    bench.inWords());
        }
    }
}
