package dev.rimecast.app.demo;

import dev.rimecast.alerts.AlertsSettings;
import dev.rimecast.alerts.keep.Retention;
import dev.rimecast.alerts.people.FactorRule;
import dev.rimecast.app.server.Role;
import dev.rimecast.app.server.Server;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.engines.EngineFailure;
import dev.rimecast.simulator.fleet.DemoFleet;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.gateway.GatewayLine;
import dev.rimecast.simulator.gateway.SimulatedGateways;
import dev.rimecast.telemetry.senml.SenmlCborEncoder;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The whole product with a simulated fleet on one injected clock: through the last weeks as fast as the machine allows,
 * then in real time. Time moves on only when everything before has its receipts and analytics keeps up.
 */
public final class Demo implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(Demo.class);
    /** As after an outage: a gateway sends half an hour in a few packs. */
    private static final Duration STEP = Duration.ofMinutes(30);

    private static final Duration LIVE_STEP = Duration.ofSeconds(5);
    /** Records that analytics may be behind before time waits for it. */
    private static final double LAG_LIMIT = 400;

    private final InstantSource wall;
    private final Server server;
    private final SimulatedGateways gateways;
    private final DemoClock clock;
    private final DemoStaff staff;
    private final Path stateFile;
    private final PrintWriter out;
    private final Instant began = Instant.now();
    private DemoState state;
    private CompletableFuture<Void> underWay = CompletableFuture.completedFuture(null);
    private volatile boolean closed;

    /**
     * @param data the demonstration's own directory
     * @param days of history at the first start
     * @param onFailure told when an engine gives up
     */
    public static Demo start(
            Path data,
            ServerSettings.Address http,
            ServerSettings.Address mqtt,
            int days,
            PrintWriter out,
            Consumer<EngineFailure> onFailure)
            throws IOException {
        return start(InstantSource.system(), data, http, mqtt, days, out, onFailure);
    }

    /** @param wall what it takes for the present, which a test may put at another hour of the day */
    static Demo start(
            InstantSource wall,
            Path data,
            ServerSettings.Address http,
            ServerSettings.Address mqtt,
            int days,
            PrintWriter out,
            Consumer<EngineFailure> onFailure)
            throws IOException {
        Path stateFile = data.resolve("demo.properties");
        Instant present = wall.instant().truncatedTo(ChronoUnit.MINUTES);
        Optional<DemoState> before = DemoState.read(stateFile);
        DemoState state = before.orElseGet(() -> {
            Instant from = present.minus(Duration.ofDays(days));
            return new DemoState(from, present, from);
        });
        return new Demo(wall, data, stateFile, state, http, mqtt, out, onFailure);
    }

    private Demo(
            InstantSource wall,
            Path data,
            Path stateFile,
            DemoState state,
            ServerSettings.Address http,
            ServerSettings.Address mqtt,
            PrintWriter out,
            Consumer<EngineFailure> onFailure)
            throws IOException {
        this.wall = wall;
        this.stateFile = stateFile;
        this.state = state;
        this.out = out;
        FleetPlan plan = DemoFleet.plan(state.presentAtStart());
        Path fleetFiles = DemoFiles.write(data, plan.register());
        clock = new DemoClock(wall, state.reached());
        ServerSettings settings = new ServerSettings(
                data.resolve("server"),
                Role.all(),
                Optional.empty(),
                http,
                Optional.empty(),
                new ServerSettings.Mqtt(mqtt, 0),
                Optional.empty(),
                ServerSettings.TopicShape.ONE_MACHINE,
                Optional.empty(),
                Optional.empty(),
                new ServerSettings.Files(
                        Optional.of(fleetFiles.resolve("machines.csv")),
                        Optional.of(fleetFiles.resolve("sites.csv")),
                        Optional.empty()),
                DemoNotices.book(http.port()),
                FactorRule.OPTIONAL,
                AlertsSettings.SITE_LINK_LASTS,
                Retention.STANDARD,
                DemoFiles.visits(fleetFiles),
                ServerSettings.KEEP_FREE_BYTES,
                ServerSettings.Past.STANDARD,
                true);
        server = Server.start(settings, clock, this::notice, onFailure);
        gateways = new SimulatedGateways(
                new SimulatedFleet(plan),
                gateway -> GatewayLine.inTheClear("tcp://" + mqtt.host() + ":" + server.mqttPort()),
                "d" + began.toEpochMilli(),
                SenmlJsonEncoder::encode,
                SenmlCborEncoder::encode,
                (site, event) -> server.alerts().siteEvents().report(event, site));
        staff = new DemoStaff(server.alerts().views(), server.alerts().actions(), state.presentAtStart());
    }

    public int httpPort() {
        return server.httpPort();
    }

    public Server server() {
        return server;
    }

    /** The sentence at the top of every page. */
    private Optional<String> notice() {
        return Optional.of(
                clock.isPast()
                        ? "Demonstration with a simulated fleet, living through its last weeks"
                        : "Demonstration with a simulated fleet of an invented firm, in real time");
    }

    /** Lives until closed or interrupted. */
    public void run() throws InterruptedException, IOException {
        gateways.skipTo(state.reached());
        gateways.start();
        long start = System.nanoTime();
        Instant told = state.reached();
        while (!closed && clock.isPast()) {
            // First the time, then what happened in it: readings from the future would be rejected.
            clock.moveTo(min(clock.instant().plus(STEP), wall.instant()));
            Instant next = clock.instant();
            while (!closed && !publish(next)) {
                LOG.warn("gateways wait for receipts of what was published up to {}", next);
            }
            waitForAnalytics();
            staff.look(clock.instant());
            keep(gateways.now());
            if (Duration.between(told, next).compareTo(Duration.ofDays(3)) >= 0) {
                told = next;
                long days = Duration.between(state.from(), next).toDays();
                out.printf("  day %d of the past, %d s%n", days, (System.nanoTime() - start) / 1_000_000_000);
                out.flush();
            }
        }
        out.printf("The past took %d s. From here on in real time.%n", (System.nanoTime() - start) / 1_000_000_000);
        out.flush();
        while (!closed) {
            TimeUnit.MILLISECONDS.sleep(LIVE_STEP.toMillis());
            if (publish(clock.instant())) {
                keep(gateways.now());
            }
        }
    }

    /** Publishes up to {@code next}; false where receipts are missing after a while: then they are still to come. */
    private boolean publish(Instant next) throws InterruptedException {
        if (underWay.isDone()) {
            underWay = gateways.publishUntil(next);
        }
        try {
            underWay.get(30, TimeUnit.SECONDS);
            return true;
        } catch (TimeoutException e) {
            return false;
        } catch (ExecutionException e) {
            throw new IllegalStateException("a simulated gateway failed", e);
        }
    }

    private void waitForAnalytics() throws InterruptedException {
        while (!closed && server.analytics().lagRecords() > LAG_LIMIT) {
            TimeUnit.MILLISECONDS.sleep(5);
        }
    }

    private void keep(Instant reached) throws IOException {
        state = state.withReached(reached);
        state.write(stateFile);
    }

    private static Instant min(Instant a, Instant b) {
        return a.isBefore(b) ? a : b;
    }

    @Override
    public void close() {
        closed = true;
        gateways.close();
        server.close();
    }
}
