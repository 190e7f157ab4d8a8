package dev.rimecast.app.command;

import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.gateway.GatewayLine;
import dev.rimecast.simulator.gateway.GatewayLines;
import dev.rimecast.simulator.gateway.SimulatedGateways;
import dev.rimecast.telemetry.senml.SenmlCborEncoder;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.io.IOException;
import java.io.PrintWriter;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;

/** A simulated fleet whose gateways publish to a server that somebody else runs. */
final class FleetPublisher implements AutoCloseable {
    private static final Duration STEP = Duration.ofMinutes(30);
    private static final Duration LIVE_STEP = Duration.ofSeconds(5);
    /** So long without a receipt, and what is wrong is told. */
    private static final Duration PATIENCE = Duration.ofSeconds(10);

    private final FleetPlan plan;
    private final SimulatedGateways gateways;
    private final InstantSource clock;
    private final PrintWriter out;
    private volatile boolean closed;

    /** @throws InputException if a gateway has no key, or one that can't be used */
    FleetPublisher(FleetPlan plan, GatewayLines lines, InstantSource clock, PrintWriter out) throws IOException {
        this.plan = plan;
        this.clock = clock;
        this.out = out;
        Map<String, GatewayLine> each = new HashMap<>();
        for (var machine : plan.register().machines()) {
            if (!each.containsKey(machine.gateway())) {
                try {
                    each.put(machine.gateway(), lines.of(machine.gateway()));
                } catch (IllegalArgumentException e) {
                    throw new InputException(String.valueOf(e.getMessage()));
                }
            }
        }
        gateways = new SimulatedGateways(
                new SimulatedFleet(plan),
                each::get,
                "s" + clock.millis(),
                SenmlJsonEncoder::encode,
                SenmlCborEncoder::encode,
                (site, event) -> {});
    }

    /** Publishes what there is after {@code from}; done when everything has its receipt, or when closed. */
    void past(Instant from) throws InterruptedException {
        long start = System.nanoTime();
        gateways.skipTo(from);
        gateways.start();
        for (Instant at = from; !closed && at.isBefore(plan.to()); ) {
            at = at.plus(STEP).isBefore(plan.to()) ? at.plus(STEP) : plan.to();
            publish(at);
        }
        if (!closed) {
            say("Published everything up to %s in %d s", plan.to(), (System.nanoTime() - start) / 1_000_000_000);
        }
    }

    /** Goes on in real time until closed. */
    void live() throws InterruptedException {
        say("From here on in real time (Ctrl-C stops it)");
        while (!closed) {
            publish(clock.instant());
            TimeUnit.MILLISECONDS.sleep(LIVE_STEP.toMillis());
        }
    }

    private void publish(Instant until) throws InterruptedException {
        CompletableFuture<Void> receipts = gateways.publishUntil(until);
        while (!closed) {
            try {
                receipts.get(PATIENCE.toMillis(), TimeUnit.MILLISECONDS);
                return;
            } catch (TimeoutException e) {
                gateways.troubles()
                        .forEach((gateway, why) -> say("%s has no connection: %s; it goes on trying", gateway, why));
            } catch (ExecutionException e) {
                throw new IllegalStateException("a simulated gateway failed", e);
            }
        }
    }

    private void say(String line, Object... with) {
        out.printf(line + "%n", with);
        out.flush();
    }

    @Override
    public void close() {
        closed = true;
        gateways.close();
    }
}
