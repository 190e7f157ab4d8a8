package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.app.faults.BadHooks.Manner;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;

/**
 * The whole server under load, whose mail server hangs, resets and crawls, and whose webhooks are slow, hang, close, redirect, fail and ask for
 * patience. A good receiver hears of everything at once meanwhile; when all are mended everybody has everything, each under one id and with
 * the same words.
 */
@EnabledIfSystemProperty(
        named = "faults",
        matches = "long",
        disabledReason = "takes ten minutes: mvn -Pfaults,faults-long verify")
class SlowReceiversIT {
    private static final long PATIENCE = Long.getLong("faults.patience", 1);
    private static final long SEED = Long.getLong("faults.seed", 20261129);
    /** More than are sent at once along one way. */
    private static final int OF_A_KIND = 6;

    private static final Duration SPOILED = Duration.ofSeconds(20);
    private static final Duration AT_ONCE = Duration.ofSeconds(30 * PATIENCE);
    /** After three failed attempts it is a minute and a half until the next one. */
    private static final Duration DRAINED = Duration.ofSeconds(420 * PATIENCE);

    @TempDir(cleanup = CleanupMode.ON_SUCCESS)
    Path directory;

    private final List<String> mailReceivers = new ArrayList<>();
    private final Map<String, Manner> hooks = new TreeMap<>();
    private int hot;

    @Test
    void receivers_slowAndBad_holdUpNobodyElse_andLoseNothing() throws Exception {
        // Threads of the test's own mail server end with the lines that are reset.
        Awaitility.doNotCatchUncaughtExceptionsByDefault();
        NoticeSinks sinks = new NoticeSinks();
        Bench.writeRegister(directory.resolve("machines.csv"));
        ServeProcess serve =
                ServeProcess.with(directory, "fleet:\n  register: machines.csv\nnotices:\n  file: notices.yaml\n");
        try (BadHooks bad = new BadHooks();
                FaultProxy mail = new FaultProxy(sinks.mailPort());
                Bench bench = new Bench(
                        serve,
                        new Generator(directory.resolve("generator"), "tcp://127.0.0.1:" + serve.mqttPort()),
                        sinks,
                        SEED)) {
            writeNotices(mail.port(), bad);
            bench.start();
            for (FaultProxy.Mode mode :
                    List.of(FaultProxy.Mode.BLACK_HOLE, FaultProxy.Mode.RESET, FaultProxy.Mode.SLOW)) {
                mail.be(mode);
                theGoodOneHears(bench, bad);
                bench.loadFor(SPOILED);
            }
            long resident = serve.residentKibibytes();
            long threads = serve.threads();
            long began = System.nanoTime();
            mail.be(FaultProxy.Mode.PASS);
            bad.mend();
            Set<String> raised = bad.idsAt("good");
            await().dontCatchUncaughtExceptions()
                    .atMost(DRAINED)
                    .pollInterval(Duration.ofSeconds(2))
                    .untilAsserted(() -> {
                        hooks.keySet()
                                .forEach(receiver -> assertThat(bad.idsAt(receiver))
                                        .as(receiver)
                                        .hasSize(raised.size()));
                        assertThat(new HashSet<>(sinks.mailed()))
                                .as("mails of %d receivers", OF_A_KIND)
                                .hasSize(raised.size() * OF_A_KIND);
                    });
            System.out.printf(
                    "slow receivers: %d notices each, drained %.0f s after the mend; %s; %d mails; %d KiB resident and %d threads before the mend%n",
                    raised.size(),
                    (System.nanoTime() - began) / 1e9,
                    bad.inWords(),
                    sinks.mailed().size(),
                    resident,
                    threads);
            assertThat(bad.idsAt("elsewhere")).as("where a redirect leads").isEmpty();
            assertThat(bad.contradictions()).isEmpty();
            assertThat(resident).as("KiB resident").isLessThan(1_200_000);
            bench.end();
            try (Aftermath store = Aftermath.of(serve.data())) {
                assertThat(store.rows("select receiver, state, detail from notice_delivery where state <> 'sent'"))
                        .as("I7 not sent")
                        .isEmpty();
                assertThat(store.rows("select count(*), count(distinct id) from notice_delivery"))
                        .containsExactly(List.of(
                                Integer.toString(raised.size() * (hooks.size() + OF_A_KIND)),
                                Integer.toString(raised.size() * (hooks.size() + OF_A_KIND))));
            }
        }
    }

    /** Two more sites get hot, and one receiver hears of both although all the others are bad. */
    private void theGoodOneHears(Bench bench, BadHooks bad) throws IOException {
        bench.generator.hot(hot++);
        bench.generator.hot(hot++);
        long began = System.nanoTime();
        await().dontCatchUncaughtExceptions()
                .atMost(AT_ONCE)
                .pollInterval(Duration.ofMillis(200))
                .untilAsserted(() -> assertThat(bad.idsAt("good")).hasSize(hot));
        System.out.printf("slow receivers: the good one has %d after %.1f s%n", hot, (System.nanoTime() - began) / 1e9);
    }

    private void writeNotices(int mailPort, BadHooks bad) throws IOException {
        Files.writeString(
                directory.resolve("secret"),
                "whsec_" + java.util.Base64.getEncoder().encodeToString(new byte[32]));
        StringBuilder yaml = new StringBuilder(
                "link: https://rimecast.example\nmail: {host: 127.0.0.1, port: " + mailPort
                        + ", security: none, from: rimecast@firm.example}\nwebhook: {private-addresses: true}\nreceivers:\n");
        for (int number = 1; number <= OF_A_KIND; number++) {
            mailReceivers.add("mail-" + number);
            yaml.append("  mail-" + number + ": {mail: desk-" + number + "@firm.example}\n");
            hooks.put("slow-" + number, Manner.SLOW);
        }
        for (Manner manner : Manner.values()) {
            if (manner != Manner.SLOW) {
                hooks.put(manner.name().toLowerCase(Locale.ROOT).replace('_', '-'), manner);
            }
        }
        hooks.forEach((receiver, manner) -> yaml.append(
                "  " + receiver + ": {webhook: \"" + bad.url(manner, receiver) + "\", secret-files: [secret]}\n"));
        List<String> all = new ArrayList<>(mailReceivers);
        all.addAll(hooks.keySet());
        yaml.append("routes:\n  - {name: all, steps: [{to: [" + String.join(", ", all) + "]}]}\n");
        Files.writeString(directory.resolve("notices.yaml"), yaml.toString());
    }
}
