package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.FileStore;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;

/**
 * The disk of the data directory, a small one in memory, gets too full, by others' files: first below what is to be kept free, then
 * to its last byte at one stroke, which no guard can prevent. Each time there is room again, and in the end nothing that
 * was acknowledged is missing and nothing was decided twice. Needs the right to mount.
 */
@EnabledIfSystemProperty(
        named = "faults",
        matches = "long",
        disabledReason = "takes minutes of processor time: mvn -Pfaults,faults-long verify")
class RealDiskIT {
    private static final long SEED = Long.getLong("faults.seed", 20261128);
    private static final long PATIENCE = Long.getLong("faults.patience", 1);
    private static final long DISK = 1_200L << 20;
    private static final long KEPT_FREE = 200_000_000;
    /** The guard looks each second, and what was under way may come to its end. */
    private static final Duration CLOSING = Duration.ofSeconds(15 * PATIENCE);

    private static final Duration CLOSED = Duration.ofSeconds(10);
    /** In which a server on a disk without a byte has noticed it; it may go on living, but not say that all is well. */
    private static final Duration FULL = Duration.ofSeconds(120 * PATIENCE);

    private static final int BLOCK = 1 << 20;

    @TempDir(cleanup = CleanupMode.ON_SUCCESS)
    Path directory;

    private Path disk() {
        return directory.resolve("disk");
    }

    private void mount() throws IOException, InterruptedException {
        Files.createDirectories(disk());
        int ended = run(List.of("mount", "-t", "tmpfs", "-o", "size=" + DISK, "tmpfs", disk().toString()));
        assumeTrue(ended == 0, "this account may not mount a disk in memory");
    }

    @AfterEach
    void unmount() throws IOException, InterruptedException {
        if (Files.getFileStore(disk()).type().equals("tmpfs")) {
            assertThat(run(List.of("umount", "--lazy", disk().toString())))
                    .as("umount")
                    .isZero();
        }
    }

    private static int run(List<String> command) throws IOException, InterruptedException {
        Process process = new ProcessBuilder(command).inheritIO().start();
        assertThat(process.waitFor(10, TimeUnit.SECONDS)).isTrue();
        return process.exitValue();
    }

    @Test
    void disk_thatIsFull_andHasRoomAgain_losesNothing() throws Exception {
        mount();
        NoticeSinks sinks = new NoticeSinks();
        sinks.write(directory.resolve("notices.yaml"));
        Bench.writeRegister(directory.resolve("machines.csv"));
        ServeProcess serve = ServeProcess.with(
                directory,
                disk().resolve("data"),
                "  keep-free-bytes: " + KEPT_FREE + "\n",
                "fleet:\n  register: machines.csv\nnotices:\n  file: notices.yaml\n");
        try (Bench bench = new Bench(
                serve,
                new Generator(directory.resolve("generator"), "tcp://127.0.0.1:" + serve.mqttPort()),
                sinks,
                SEED)) {
            bench.start();
            bench.generator.hot(0);
            bench.faultAndHeal("less room than is kept free", true, () -> tooLittle(bench));
            bench.generator.hot(1);
            bench.faultAndHeal("not a byte left", true, () -> full(bench));
            bench.generator.hot(2);
            await().atMost(Duration.ofSeconds(60 * PATIENCE))
                    .untilAsserted(
                            () -> assertThat(sinks.posted()).as("I7 posts").hasSizeGreaterThanOrEqualTo(3));
            bench.end();
            sums(bench);
        }
    }

    private void tooLittle(Bench bench) throws Exception {
        Path other = fill(KEPT_FREE * 9 / 10);
        await().atMost(CLOSING)
                .untilAsserted(
                        () -> assertThat(bench.serve.output()).contains("nothing is taken in until the disk has room"));
        int[] receipts = {bench.accounts().receipted().size()};
        // A pack that was under way may have had its receipt since.
        bench.loadFor(Duration.ofSeconds(2));
        receipts[0] = bench.accounts().receipted().size();
        bench.loadFor(CLOSED);
        assertThat(bench.accounts().receipted())
                .as("receipts while the intake is closed")
                .hasSize(receipts[0]);
        assertThat(bench.serve.isAlive()).isTrue();
        Files.delete(other);
        bench.awaitReceipts();
        assertThat(bench.serve.output()).contains("has room again");
    }

    private void full(Bench bench) throws Exception {
        Path other = fill(0);
        long start = System.nanoTime();
        await().atMost(FULL)
                .pollInterval(Duration.ofMillis(500))
                .until(() -> !bench.serve.isAlive() || bench.serve.output().contains("nothing is taken in"));
        bench.loadFor(Duration.ofSeconds(30));
        boolean isAlive = bench.serve.isAlive();
        System.out.printf(
                "full disk: %.0f s later the server %s; its last words: %s%n",
                (System.nanoTime() - start) / 1e9,
                isAlive ? "is alive" : "has ended",
                bench.serve.output().lines().reduce("", (before, last) -> last));
        Files.delete(other);
        // Of a disk without a byte it may say what it likes; what it has kept is looked at.
        bench.forgiveErrors();
        if (!isAlive) {
            bench.serve.start();
        }
        bench.awaitReady();
        bench.awaitReceipts();
    }

    /** Another's file that leaves so many bytes. */
    private Path fill(long left) throws IOException {
        Path file = disk().resolve("another's");
        FileStore store = Files.getFileStore(disk());
        byte[] block = new byte[BLOCK];
        try (OutputStream out = Files.newOutputStream(file)) {
            while (store.getUsableSpace() > left) {
                out.write(block, 0, (int) Math.min(BLOCK, Math.max(1, store.getUsableSpace() - left)));
            }
        } catch (IOException e) {
            if (left > 0) {
                throw e;
            }
        }
        return file;
    }

    private static void sums(Bench bench) throws Exception {
        try (Aftermath store = Aftermath.of(bench.serve.data())) {
            var findings = store.findings();
            Accounts accounts = bench.accounts();
            new Invariants(bench.inWords(), accounts, Bench.logs(store.kafka()))
                    .acknowledgedIsStored(true)
                    .everythingSentIsStored()
                    .contentIsWhatWasSent()
                    .decidedOnce(findings, store.states())
                    .alertsAreThoseOf(findings, store.alerts())
                    .raisedOnce(store::rows)
                    .oneVisitForEachNeed(store::rows)
                    .everybodyIsTold(store::rows, bench.sinks, 3);
            System.out.printf(
                    "full disk: %d packs, %d findings, %d alerts; %s%n",
                    accounts.sent().size(), findings.size(), store.alerts().size(), bench.inWords());
        }
    }
}
