package dev.rimecast.dashboard.fake;

import dev.rimecast.dashboard.DashboardSettings;
import dev.rimecast.dashboard.DashboardStage;
import dev.rimecast.dashboard.HealthView;
import dev.rimecast.dashboard.HealthView.StageHealth;
import dev.rimecast.dashboard.HealthView.State;
import io.micrometer.prometheusmetrics.PrometheusConfig;
import io.micrometer.prometheusmetrics.PrometheusMeterRegistry;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.function.BiFunction;

/** The dashboard over a fleet in memory. Its {@code main} is for looking at pages while working on them. */
public final class FakeServer implements AutoCloseable {
    private final FakeChanges changes = new FakeChanges();
    private final PrometheusMeterRegistry meters = new PrometheusMeterRegistry(PrometheusConfig.DEFAULT);
    private final FakeFleet fleet;
    private final DashboardStage stage;

    private FakeServer(
            int port, InstantSource clock, BiFunction<InstantSource, FakeChanges, FakeFleet> fleets, String demo) {
        fleet = fleets.apply(clock, changes);
        HealthView health = new HealthView(
                List.of(
                        new StageHealth("ingest", State.UP, ""),
                        new StageHealth("analytics", State.UP, ""),
                        new StageHealth("alerts", State.UP, "")),
                demo.isEmpty() ? Optional.empty() : Optional.of(demo));
        stage = DashboardStage.start(
                DashboardSettings.loopback(port, "0.1.0-test"),
                fleet,
                fleet,
                notices(clock),
                changes,
                clock,
                meters,
                () -> health);
    }

    private FakeNotices notices(InstantSource clock) {
        return fleet.sites().isEmpty()
                ? FakeNotices.empty()
                : FakeNotices.small(clock.instant(), fleet.sites().get(0).id());
    }

    public static FakeServer start(BiFunction<InstantSource, FakeChanges, FakeFleet> fleets) {
        return new FakeServer(0, InstantSource.system(), fleets, "");
    }

    /** As in a demonstration, with the sentence that its pages show. */
    public static FakeServer demonstration(InstantSource clock, String sentence) {
        return new FakeServer(0, clock, FakeFleets::small, sentence);
    }

    public FakeFleet fleet() {
        return fleet;
    }

    public FakeChanges changes() {
        return changes;
    }

    /** How many screens listen. */
    public int viewers() {
        return (int) meters.get("rimecast.dashboard.live.viewers").gauge().value();
    }

    public String url(String path) {
        return "http://localhost:" + stage.port() + path;
    }

    @Override
    public void close() {
        stage.close();
    }

    /** Arguments: port, then {@code small}, {@code empty} or a number of machines, then a sentence for a demonstration. */
    public static void main(String[] args) throws InterruptedException {
        String size = args[1];
        FakeServer server = new FakeServer(
                Integer.parseInt(args[0]),
                InstantSource.system(),
                (clock, changes) -> switch (size) {
                    case "small" -> FakeFleets.small(clock, changes);
                    case "empty" -> FakeFleets.empty(clock, changes);
                    default -> FakeFleets.large(clock, changes, Integer.parseInt(size));
                },
                args.length > 2 ? args[2] : "");
        System.out.println(server.url("/"));
        Thread.currentThread().join();
    }
}
