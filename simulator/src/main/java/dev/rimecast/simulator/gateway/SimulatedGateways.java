package dev.rimecast.simulator.gateway;

import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SimulatedSite;
import dev.rimecast.simulator.fleet.SiteBatch;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.function.BiConsumer;
import java.util.function.Function;

/** All gateways of a simulated fleet: moves the fleet on in time and publishes what its machines say. */
public final class SimulatedGateways implements AutoCloseable {
    private final SimulatedFleet fleet;
    private final Map<String, String> gatewayOfMachine = new LinkedHashMap<>();
    private final Map<String, SimulatedGateway> gateways = new LinkedHashMap<>();
    private final Map<String, List<Reading>> kept = new LinkedHashMap<>();
    private final Set<String> cutOff = new HashSet<>();
    private final BiConsumer<String, Happened> events;
    private final ScheduledExecutorService timer = Executors.newScheduledThreadPool(1, task -> {
        Thread thread = new Thread(task, "simulated-gateways");
        thread.setDaemon(true);
        return thread;
    });

    /**
     * @param lines how each reaches the server, by its name
     * @param boot another word at each start
     * @param json SenML JSON, for every second gateway
     * @param cbor SenML CBOR, for the others
     * @param events told what people did, by site, before the readings of the same span are published
     */
    public SimulatedGateways(
            SimulatedFleet fleet,
            Function<String, GatewayLine> lines,
            String boot,
            PackEncoder json,
            PackEncoder cbor,
            BiConsumer<String, Happened> events) {
        this.fleet = fleet;
        this.events = events;
        for (Machine machine : fleet.register().machines()) {
            gatewayOfMachine.put(machine.id(), machine.gateway());
            boolean packed = gateways.size() % 2 == 1;
            gateways.computeIfAbsent(
                    machine.gateway(),
                    id -> new SimulatedGateway(id, lines.apply(id), boot, packed ? cbor : json, packed, timer));
            kept.computeIfAbsent(machine.gateway(), id -> new ArrayList<>());
        }
    }

    /** Connects all of them; each goes on trying until closed. */
    public void start() {
        gateways.values().forEach(SimulatedGateway::start);
    }

    /** Lives up to {@code until} without publishing: what was published before a restart is not sent again. */
    public void skipTo(Instant until) {
        fleet.sites().parallelStream().forEach(site -> site.advanceTo(until));
    }

    /**
     * Lives up to {@code until} and publishes what happened since. A gateway whose line is down by the plan keeps its
     * readings and sends them afterwards.
     *
     * @return done when everything that can be sent has its receipt
     */
    public CompletableFuture<Void> publishUntil(Instant until) {
        List<SiteBatch> batches = fleet.sites().parallelStream()
                .map(site -> site.advanceTo(until))
                .toList();
        for (SiteBatch batch : batches) {
            batch.events().forEach(event -> events.accept(batch.site(), event));
            for (Reading reading : batch.readings()) {
                String gateway = gatewayOfMachine.get(reading.machine());
                if (gateway != null) {
                    kept.getOrDefault(gateway, List.of()).add(reading);
                }
            }
        }
        List<CompletableFuture<Void>> receipts = new ArrayList<>();
        gateways.forEach((id, gateway) -> {
            if (isCutOff(id, until)) {
                if (cutOff.add(id)) {
                    gateway.cut();
                }
                return;
            }
            if (cutOff.remove(id)) {
                gateway.start();
            }
            List<Reading> readings = kept.getOrDefault(id, List.of());
            receipts.add(gateway.publish(List.copyOf(readings)));
            readings.clear();
        });
        return CompletableFuture.allOf(receipts.toArray(CompletableFuture[]::new));
    }

    /** Why gateways have no connection, by name; those that are cut off by the plan have no reason. */
    public Map<String, String> troubles() {
        Map<String, String> troubles = new TreeMap<>();
        gateways.forEach((id, gateway) -> gateway.trouble().ifPresent(why -> troubles.put(id, why)));
        return troubles;
    }

    private boolean isCutOff(String gateway, Instant at) {
        for (FleetPlan.Outage outage : fleet.plan().outages()) {
            if (outage.gateway().equals(gateway) && outage.covers(at)) {
                return true;
            }
        }
        return false;
    }

    /** Up to where every site has lived. */
    public Instant now() {
        return fleet.sites().stream()
                .map(SimulatedSite::now)
                .min(Instant::compareTo)
                .orElse(fleet.plan().from());
    }

    @Override
    public void close() {
        gateways.values().parallelStream().forEach(SimulatedGateway::close);
        timer.shutdownNow();
    }
}
