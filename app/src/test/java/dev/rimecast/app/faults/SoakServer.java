package dev.rimecast.app.faults;

import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.app.server.LoopbackSettings;
import dev.rimecast.app.server.Server;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.gateway.GatewayLine;
import dev.rimecast.simulator.gateway.SimulatedGateways;
import dev.rimecast.simulator.trial.TrialChannels;
import dev.rimecast.simulator.trial.TrialFleet;
import dev.rimecast.simulator.trial.TrialSettings;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.senml.SenmlCborEncoder;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import java.util.stream.Stream;
import javax.management.JMException;
import javax.management.ObjectName;

/**
 * The whole product in a process of its own with ten times the demonstration's machines, each of which says what it has to say once a
 * simulated minute over real MQTT, and people who see what is new. Time passes evenly, as fast as it is told; every few
 * hours of it a line says how much the process holds.
 */
final class SoakServer {
    /** The demonstration has 24 machines. */
    static final int MACHINES = 240;

    static final String SAMPLE = "soak";
    /** With three to five machines each, so that there are no fewer than {@link #MACHINES}. */
    private static final int SITES = 62;

    private static final Duration STEP = Duration.ofMinutes(1);
    /** Trials are quiet for so long. */
    private static final Duration QUIET = Duration.ofDays(16);

    private static final Duration SAMPLES = Duration.ofHours(2);
    private static final double LAG_LIMIT = 2_000;

    /** Of one look, so far apart: what is kept is in each of them, what is under way is not in all. */
    private static final int COLLECTIONS = 8;

    private static final Duration BETWEEN_COLLECTIONS = Duration.ofMillis(500);
    private static final Duration IDLE_LIMIT = Duration.ofSeconds(20);

    /** Directory that gets a histogram of classes at each look; none where it is not set. */
    static final String HISTOGRAMS = "soak.histograms";

    private SoakServer() {}

    /**
     * @param arguments directory, simulated hours, wall seconds that a simulated hour takes at least
     */
    public static void main(String[] arguments) throws Exception {
        Path directory = Path.of(arguments[0]);
        Duration length = Duration.ofHours(Long.parseLong(arguments[1]));
        double secondsAnHour = Double.parseDouble(arguments[2]);
        FleetPlan plan = TrialFleet.plan(
                new TrialSettings(20_261_129, SITES, 30, Duration.ofSeconds(60), TrialChannels.FULL, causes()));
        Instant from = plan.from().plus(QUIET);
        AtomicReference<Instant> clock = new AtomicReference<>(from);
        try (Server server = server(directory, plan, clock);
                SimulatedGateways gateways = new SimulatedGateways(
                        new SimulatedFleet(plan),
                        gateway -> GatewayLine.inTheClear("tcp://127.0.0.1:" + server.mqttPort()),
                        "soak",
                        SenmlJsonEncoder::encode,
                        SenmlCborEncoder::encode,
                        (site, event) -> server.alerts().siteEvents().report(event, site))) {
            gateways.skipTo(from);
            gateways.start();
            long began = System.nanoTime();
            sample(server, plan, Duration.ZERO, began);
            for (Duration lived = STEP; lived.compareTo(length) <= 0; lived = lived.plus(STEP)) {
                Instant now = from.plus(lived);
                clock.set(now);
                gateways.publishUntil(now).get(120, TimeUnit.SECONDS);
                while (server.analytics().lagRecords() > LAG_LIMIT) {
                    TimeUnit.MILLISECONDS.sleep(5);
                }
                if (lived.toMinutes() % SAMPLES.toMinutes() == 0) {
                    see(server);
                    sample(server, plan, lived, began);
                }
                long due = began + (long) (lived.toMinutes() / 60.0 * secondsAnHour * 1e9);
                TimeUnit.NANOSECONDS.sleep(Math.max(0, due - System.nanoTime()));
            }
        }
        System.exit(0);
    }

    /**
     * All but a gateway whose line is down for good: what it keeps until then stands in the memory of this process, grows with each minute, and
     * is the gateway's and not the product's.
     */
    private static Set<Cause> causes() {
        EnumSet<Cause> causes = EnumSet.copyOf(TrialSettings.allCauses());
        causes.remove(Cause.GATEWAY_LINK_DOWN);
        return causes;
    }

    private static Server server(Path directory, FleetPlan plan, AtomicReference<Instant> clock) throws IOException {
        return Server.start(LoopbackSettings.of(directory, plan), clock::get, Optional::empty, failure -> {
            System.out.println("engine failed: " + failure);
            Runtime.getRuntime().halt(1);
        });
    }

    /** Somebody looks at the list and says that what is on it was seen. */
    private static void see(Server server) {
        server.alerts().views().alerts(AlertFilter.OPEN, 200).stream()
                .filter(alert -> alert.state().needsEyes())
                .forEach(alert ->
                        server.alerts().actions().acknowledge(alert.finding().id(), alert.version(), "Robin", "seen"));
    }

    private static void sample(Server server, FleetPlan plan, Duration lived, long began) throws Exception {
        awaitIdle(server);
        long[] heap = heap();
        System.out.printf(
                "%s %d simulated hours, %d s, heap %d KiB, %d handles, %d threads, %d KiB resident, %d machines, %d alerts, lag %.0f, heap at most %d KiB%n",
                SAMPLE,
                lived.toHours(),
                (System.nanoTime() - began) / 1_000_000_000,
                heap[0] >> 10,
                handles(),
                ManagementFactory.getThreadMXBean().getThreadCount(),
                resident(),
                plan.register().machines().size(),
                server.alerts().views().alerts(AlertFilter.EVERY, 10_000).size(),
                server.analytics().lagRecords(),
                heap[1] >> 10);
        String histograms = System.getProperty(HISTOGRAMS);
        if (histograms != null) {
            Files.writeString(Path.of(histograms, "hour-" + lived.toHours() + ".txt"), histogram());
        }
    }

    /** A look is at what is kept, not at what is being worked at. */
    private static void awaitIdle(Server server) throws InterruptedException {
        long until = System.nanoTime() + IDLE_LIMIT.toNanos();
        while (server.analytics().lagRecords() > 0 && System.nanoTime() < until) {
            TimeUnit.MILLISECONDS.sleep(20);
        }
    }

    /** The least and the most of some collections, bytes. */
    private static long[] heap() throws InterruptedException {
        long least = Long.MAX_VALUE;
        long most = 0;
        for (int i = 0; i < COLLECTIONS; i++) {
            if (i > 0) {
                TimeUnit.MILLISECONDS.sleep(BETWEEN_COLLECTIONS.toMillis());
            }
            System.gc();
            long used = ManagementFactory.getMemoryMXBean().getHeapMemoryUsage().getUsed();
            least = Math.min(least, used);
            most = Math.max(most, used);
        }
        return new long[] {least, most};
    }

    private static String histogram() throws JMException {
        return (String) ManagementFactory.getPlatformMBeanServer()
                .invoke(
                        new ObjectName("com.sun.management:type=DiagnosticCommand"),
                        "gcClassHistogram",
                        new Object[] {new String[0]},
                        new String[] {String[].class.getName()});
    }

    /** Open file handles of this process, sockets among them, as Linux has them. */
    private static long handles() throws IOException {
        try (Stream<Path> open = Files.list(Path.of("/proc/self/fd"))) {
            return open.count();
        }
    }

    private static long resident() throws IOException {
        List<String> status = Files.readAllLines(Path.of("/proc/self/status"));
        return status.stream()
                .filter(line -> line.startsWith("VmRSS:"))
                .mapToLong(line -> Long.parseLong(line.replaceAll("\\D", "")))
                .findFirst()
                .orElse(0);
    }
}
