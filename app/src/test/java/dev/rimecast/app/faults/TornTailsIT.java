package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;

/**
 * What a power cut leaves behind what was forced to disk: a killed server's files get a tail that is the beginning of a
 * batch, zeros, or rubbish, indexes are cut or blotted, and files are there that were only half written. The start after it
 * repairs them, and nothing that was acknowledged is missing. (What was forced to disk and is cut off is a broken disk: that
 * nobody can repair.)
 */
@EnabledIfSystemProperty(
        named = "faults",
        matches = "long",
        disabledReason = "takes minutes of processor time: mvn -Pfaults,faults-long verify")
class TornTailsIT {
    private static final long SEED = Long.getLong("faults.seed", 20261128);
    private static final int ROUNDS = Integer.getInteger("faults.torn", 6);
    private static final int LONGEST = 4_096;
    /** Where a batch of Kafka says how long the rest of it is, after its first offset. */
    private static final int LENGTH_AT = 8;

    @TempDir(cleanup = CleanupMode.ON_SUCCESS)
    Path directory;

    private final Random random = new Random(SEED);
    private int torn;

    @Test
    void tails_thatAreTorn_areRepaired_andNothingAcknowledgedIsMissing() throws Exception {
        Bench.writeRegister(directory.resolve("machines.csv"));
        ServeProcess serve = ServeProcess.with(directory, "fleet:\n  register: machines.csv\n");
        try (Bench bench = new Bench(
                serve,
                new Generator(directory.resolve("generator"), "tcp://127.0.0.1:" + serve.mqttPort()),
                new NoticeSinks(),
                SEED)) {
            bench.start();
            for (int round = 1; round <= ROUNDS; round++) {
                bench.faultAndHeal("torn tails " + round, true, () -> {
                    bench.loadFor(Duration.ofMillis(2_000 + random.nextInt(6_000)));
                    bench.serve.killWithDatabase();
                    tear(bench.serve.data());
                    bench.serve.start();
                    bench.awaitReady();
                    bench.awaitReceipts();
                });
            }
            bench.end();
            sums(bench);
        }
    }

    private void tear(Path data) throws IOException {
        List<Path> segments = files(data.resolve("kafka"), ".log");
        for (Path file : segments) {
            if (isLastOfItsLog(file, segments)) {
                append(file, tail(file));
            }
        }
        for (Path file : files(data.resolve("kafka"), "index")) {
            if (random.nextBoolean()) {
                blot(file);
            }
        }
        for (Path file : files(data.resolve("history"), ".parquet")) {
            if (random.nextInt(20) == 0) {
                // As it is called while it is written.
                Path half = file.resolveSibling(file.getFileName() + ".unfinished");
                byte[] whole = Files.readAllBytes(file);
                Files.write(half, Arrays.copyOf(whole, random.nextInt(whole.length)));
                torn++;
            }
        }
    }

    private static List<Path> files(Path below, String end) throws IOException {
        try (Stream<Path> all = Files.walk(below)) {
            return all.filter(file -> file.toString().endsWith(end) && Files.isRegularFile(file))
                    .sorted()
                    .toList();
        }
    }

    private static boolean isLastOfItsLog(Path segment, List<Path> all) {
        return all.stream()
                .filter(other -> segment.resolveSibling(other.getFileName()).equals(other))
                .allMatch(other -> other.compareTo(segment) <= 0);
    }

    /** What was on its way to the disk: the beginning of a batch as one that is there, zeros of blocks not written, or rubbish. */
    private byte[] tail(Path segment) throws IOException {
        byte[] tail = new byte[1 + random.nextInt(LONGEST)];
        byte[] head = new byte[LONGEST];
        try (FileChannel channel = FileChannel.open(segment)) {
            int read = channel.read(ByteBuffer.wrap(head));
            switch (random.nextInt(3)) {
                case 0 -> {
                    if (read > LENGTH_AT + Integer.BYTES) {
                        int whole = LENGTH_AT
                                + Integer.BYTES
                                + ByteBuffer.wrap(head).getInt(LENGTH_AT);
                        tail = Arrays.copyOf(head, 1 + random.nextInt(Math.min(read, whole) - 1));
                    }
                }
                case 1 -> random.nextBytes(tail);
                default -> {
                    // zeros
                }
            }
        }
        return tail;
    }

    private void append(Path file, byte[] tail) throws IOException {
        Files.write(file, tail, StandardOpenOption.APPEND);
        torn++;
    }

    private void blot(Path index) throws IOException {
        try (FileChannel channel = FileChannel.open(index, StandardOpenOption.WRITE)) {
            long size = channel.size();
            if (size > 0 && random.nextBoolean()) {
                channel.truncate((long) (size * random.nextDouble()));
            } else if (size > 0) {
                byte[] rubbish = new byte[(int) Math.min(size, 64)];
                random.nextBytes(rubbish);
                channel.write(ByteBuffer.wrap(rubbish), size - rubbish.length);
            }
            torn++;
        }
    }

    private void sums(Bench bench) throws Exception {
        try (Aftermath store = Aftermath.of(bench.serve.data())) {
            var findings = store.findings();
            Accounts accounts = bench.accounts();
            assertThat(torn).as("files torn").isGreaterThan(20 * ROUNDS);
            new Invariants(bench.inWords(), accounts, Bench.logs(store.kafka()))
                    .acknowledgedIsStored(true)
                    .everythingSentIsStored()
                    .contentIsWhatWasSent()
                    .decidedOnce(findings, store.states())
                    .alertsAreThoseOf(findings, store.alerts())
                    .raisedOnce(store::rows);
            System.out.printf(
                    "torn tails: %d files torn, %d packs, %d findings; %s%n",
                    torn, accounts.sent().size(), findings.size(), bench.inWords());
        }
    }
}
