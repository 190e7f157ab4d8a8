package dev.rimecast.app.faults;

import static org.awaitility.Awaitility.await;

import dev.rimecast.simulator.gateway.FileStore;
import dev.rimecast.simulator.gateway.GatewayLine;
import dev.rimecast.simulator.gateway.GatewayLines;
import dev.rimecast.simulator.gateway.Pace;
import dev.rimecast.simulator.gateway.SimulatedGateway;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;

/**
 * The process that plays the gateways, with a store on disk each and a ledger of all. Arguments: where to connect,
 * a directory, in which a generator that was killed is gone on with, and maybe one with a secret of each gateway. Reads commands from its input: {@code hot K} has the
 * gateway of the K-th live site say that its machine has been too hot for ten minutes, {@code stop} ends the load, and
 * the process ends when everything it has sent is covered.
 *
 * <p>What a toy gateway's n-th pack says is a function of n, so that the number alone gives the content again.
 */
public final class LoadGenerator {
    /** Of one pack. */
    static final int MINUTES = 10;

    private static final Duration EVERY = Duration.ofMillis(100);
    /** No further ahead of what is stored: a server that is away finds no mountain when it is back. */
    private static final int MOST_WAITING = 300;

    private static final Pace PACE = new Pace(200, Duration.ofSeconds(15));
    private static final long STORE_BYTES = 64L << 20;

    private final String uri;
    private final Path directory;
    private final Ledger ledger;
    private final ScheduledExecutorService timer = Executors.newScheduledThreadPool(2);
    private final Map<String, SimulatedGateway> gateways = new LinkedHashMap<>();

    private final Optional<GatewayLines> lines;

    private LoadGenerator(String uri, Path directory, Optional<Path> keys) throws IOException {
        this.uri = uri;
        this.lines = keys.map(each ->
                new GatewayLines(URI.create(uri.replace("tcp:", "mqtt:")), Optional.empty(), Optional.of(each)));
        this.directory = directory;
        this.ledger = Ledger.open(ledger(directory));
    }

    static Path ledger(Path directory) {
        return directory.resolve("ledger");
    }

    /** See the class. */
    public static void main(String[] arguments) throws IOException {
        LoadGenerator generator = new LoadGenerator(
                arguments[0],
                Path.of(arguments[1]),
                arguments.length > 2 ? Optional.of(Path.of(arguments[2])) : Optional.empty());
        for (String gateway : BrokerUsers.ofTheLoad()) {
            generator.gateway(gateway);
        }
        var load =
                generator.timer.scheduleWithFixedDelay(generator::publish, 0, EVERY.toMillis(), TimeUnit.MILLISECONDS);
        BufferedReader commands = new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8));
        for (String line = commands.readLine(); line != null && !line.equals("stop"); line = commands.readLine()) {
            generator.hot(LiveSites.ALL.get(Integer.parseInt(line.substring("hot ".length()))));
        }
        load.cancel(false);
        generator.awaitCovered();
        generator.close();
    }

    private void gateway(String id) throws IOException {
        GatewayLine line = lines.isPresent() ? lines.get().of(id) : GatewayLine.inTheClear(uri);
        FileStore store = FileStore.open(
                directory.resolve("stores").resolve(id), "b-" + Instant.now().toEpochMilli(), STORE_BYTES);
        SimulatedGateway gateway =
                new SimulatedGateway(id, line, store, PACE, SenmlJsonEncoder::encode, false, timer, ledger.of(id));
        gateways.put(id, gateway);
        gateway.start();
    }

    private void publish() {
        for (String site : ToyFleet.SITES) {
            SimulatedGateway gateway = gateways.get(ToyFleet.gateway(site));
            if (gateway != null && gateway.waiting() < MOST_WAITING) {
                // Only this thread adds packs of this gateway.
                int minute = (int) gateway.lastSeq() * MINUTES;
                var unused = gateway.publish(ToyFleet.readings(site, minute, minute + MINUTES));
            }
        }
    }

    private void hot(String site) {
        SimulatedGateway gateway = gateways.get(LiveSites.gateway(site));
        if (gateway != null) {
            var unused = gateway.publish(LiveSites.tooHot(site, Instant.now()));
        }
    }

    /** Without a limit of its own: whoever has started this process has one. */
    private void awaitCovered() {
        await().forever()
                .pollInterval(Duration.ofMillis(50))
                .until(() -> gateways.values().stream().allMatch(gateway -> gateway.waiting() == 0));
    }

    private void close() throws IOException {
        gateways.values().parallelStream().forEach(SimulatedGateway::close);
        timer.shutdownNow();
        ledger.close();
    }
}
