package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.analytics.stream.StageSettings;
import dev.rimecast.app.server.LoopbackSettings;
import dev.rimecast.app.server.Server;
import dev.rimecast.simulator.gateway.GatewayLine;
import dev.rimecast.simulator.gateway.SimulatedGateway;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.IntConsumer;

/** A server for the toy fleet, whose clock goes as its readings do and never back. */
public final class ToyServer implements AutoCloseable {
    public static final int STEP = 10;

    private final AtomicReference<Instant> now;
    public final Server server;

    public ToyServer(Path data, Path register, Instant start) {
        now = new AtomicReference<>(start);
        server = Server.start(LoopbackSettings.of(data, register), now::get, Optional::empty, failure -> {});
        assertThat(server.meters()
                        .get("rimecast.ingest.register.machines")
                        .gauge()
                        .value())
                .as("machines that ingest knows when gateways are let in")
                .isEqualTo(ToyFleet.SITES.stream()
                        .mapToLong(site -> ToyFleet.machines(site).size())
                        .sum());
    }

    /**
     * Has each gateway send its minutes from the first one on, in numbered packs of ten minutes.
     *
     * @param minutes so many
     * @param after told the minute that all have their receipts of
     */
    public void publish(int minutes, IntConsumer after) throws Exception {
        publish(0, minutes, "b1", after);
    }

    /** The same for some minutes, of gateways that have started anew. */
    public void publish(int from, int to, String boot) throws Exception {
        publish(from, to, boot, minute -> {});
    }

    private void publish(int from, int to, String boot, IntConsumer after) throws Exception {
        ScheduledExecutorService timer = Executors.newScheduledThreadPool(1);
        Map<String, SimulatedGateway> gateways = new LinkedHashMap<>();
        for (String site : ToyFleet.SITES) {
            gateways.put(
                    site,
                    new SimulatedGateway(
                            ToyFleet.gateway(site),
                            GatewayLine.inTheClear("tcp://127.0.0.1:" + server.mqttPort()),
                            boot,
                            SenmlJsonEncoder::encode,
                            false,
                            timer));
        }
        gateways.values().forEach(SimulatedGateway::start);
        for (int minute = from; minute < to; minute += STEP) {
            Instant reached = ToyFleet.START.plus(Duration.ofMinutes(minute + STEP));
            now.updateAndGet(before -> before.isAfter(reached) ? before : reached);
            for (Map.Entry<String, SimulatedGateway> gateway : gateways.entrySet()) {
                gateway.getValue()
                        .publish(ToyFleet.readings(gateway.getKey(), minute, minute + STEP))
                        .get(30, TimeUnit.SECONDS);
            }
            after.accept(minute);
        }
        gateways.values().forEach(SimulatedGateway::close);
        timer.shutdownNow();
    }

    /** Returns when all that was published is decided, and what came of it can be read. */
    public void awaitDecided() throws Exception {
        try (Backlog backlog = Backlog.of(server.kafka())) {
            await().during(Duration.ofSeconds(1))
                    .atMost(Duration.ofSeconds(60))
                    .untilAsserted(
                            () -> assertThat(backlog.lines(StageSettings.APPLICATION_ID, Topics.SITES, Topics.CYCLES))
                                    .isEmpty());
        }
        assertThat(server.alerts().health().problems()).isEmpty();
    }

    @Override
    public void close() {
        server.close();
    }
}
