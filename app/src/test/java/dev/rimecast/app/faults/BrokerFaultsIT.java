package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.app.spine.OptionalParts;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Objects;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;

/**
 * The same behind a broker that keeps nothing over a kill, and so loses packs for which it has given receipts. What the
 * gateways' stores still hold must not be lost: they delete only what is covered.
 */
class BrokerFaultsIT {
    private static final long SEED = Long.getLong("faults.seed", 20261128);
    private static final int KILLS =
            Integer.getInteger("faults.kills", "long".equals(System.getProperty("faults")) ? 20 : 1);

    /** Kept after a failure: everything that happened is in it. */
    @TempDir(cleanup = CleanupMode.ON_SUCCESS)
    Path directory;

    private final Random random = new Random(SEED);
    private final int brokerPort = ServeProcess.freePort();
    private @Nullable Process broker;

    @Test
    void broker_thatForgetsAndServer_areKilled_nothingIsLostThatAStoreHeld() throws Exception {
        Path program = OptionalParts.mosquitto();
        Bench.writeRegister(directory.resolve("machines.csv"));
        ServeProcess serve = ServeProcess.with(
                directory,
                "fleet:\n  register: machines.csv\nmqtt-broker:\n  url: mqtt://127.0.0.1:" + brokerPort + "\n");
        startBroker(program);
        try (Bench bench = new Bench(
                serve,
                new Generator(directory.resolve("generator"), "tcp://127.0.0.1:" + brokerPort),
                new NoticeSinks(),
                SEED)) {
            bench.start();
            for (int kill = 1; kill <= KILLS; kill++) {
                bench.faultAndHeal("kill " + kill + " of the broker", false, () -> {
                    bench.loadFor(Duration.ofMillis(1_000 + random.nextInt(3_000)));
                    killBroker();
                    startBroker(program);
                });
                bench.faultAndHeal("kill " + kill + " of server and broker", false, () -> {
                    // The broker takes packs that nobody fetches, gives receipts, and forgets them.
                    bench.serve.kill();
                    bench.loadFor(Duration.ofMillis(1_000 + random.nextInt(2_000)));
                    killBroker();
                    startBroker(program);
                    bench.serve.start();
                    bench.awaitReady();
                });
            }
            bench.end();
            sums(bench);
        } finally {
            killBroker();
        }
    }

    private static void sums(Bench bench) throws Exception {
        try (Aftermath store = Aftermath.of(bench.serve.data())) {
            var findings = store.findings();
            Accounts accounts = bench.accounts();
            new Invariants(bench.inWords(), accounts, Bench.logs(store.kafka()))
                    .acknowledgedIsStored(false)
                    .everythingSentIsStored()
                    .contentIsWhatWasSent()
                    .decidedOnce(findings, store.states())
                    .alertsAreThoseOf(findings, store.alerts())
                    .raisedOnce(store::rows);
            System.out.printf(
                    "broker faults: %d packs, %d findings; %s%n",
                    accounts.sent().size(), findings.size(), bench.inWords());
        }
    }

    private void startBroker(Path program) throws IOException {
        Path configuration = directory.resolve("mosquitto.conf");
        Files.writeString(
                configuration,
                "listener " + brokerPort + " 127.0.0.1\nallow_anonymous true\nmax_queued_messages 100000\n");
        broker = new ProcessBuilder(program.toString(), "-c", configuration.toString())
                .redirectErrorStream(true)
                .redirectOutput(directory.resolve("mosquitto.log").toFile())
                .start();
    }

    private void killBroker() throws InterruptedException {
        Process running = Objects.requireNonNull(broker, "not started");
        running.destroyForcibly();
        assertThat(running.waitFor(10, TimeUnit.SECONDS)).isTrue();
    }
}
