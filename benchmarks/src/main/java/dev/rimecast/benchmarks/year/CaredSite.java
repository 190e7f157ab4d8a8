package dev.rimecast.benchmarks.year;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.FleetPlan.Outage;
import dev.rimecast.simulator.fleet.SimulatedSite;
import dev.rimecast.simulator.fleet.SiteBatch;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** A simulated site from its first day to its last: it is watched, and a firm comes when something is found. */
final class CaredSite implements SiteMonitor.Output {
    private static final Duration HOUR = Duration.ofHours(1);
    private static final long MINUTE_MILLIS = 60_000;

    private final FleetPlan plan;
    private final SimulatedSite site;
    private final String gateway;
    private final List<Outage> outages;
    private final SiteMonitor monitor;
    private final ServiceFirm firm;
    private final List<Finding> findings = new ArrayList<>();
    /** What a gateway with a store could not send yet. */
    private final List<Reading> held = new ArrayList<>();

    private final Told told;
    private Instant fed;

    /** @param told who else is told of what comes */
    CaredSite(FleetPlan plan, SimulatedSite site, Told told) {
        this.plan = plan;
        this.told = told;
        fed = plan.from();
        this.site = site;
        String id = site.site().id();
        List<Machine> machines = plan.register().machinesAt(id);
        gateway = machines.get(0).gateway();
        outages = plan.outages().stream()
                .filter(outage -> outage.gateway().equals(gateway))
                .toList();
        monitor = SiteMonitor.fresh(id, Policy.standard());
        firm = new ServiceFirm(site);
        machines.forEach(machine -> monitor.accept(new SiteRecord.Registered(plan.from(), machine), this));
    }

    CaredSite live() {
        for (Instant at = plan.from().plus(HOUR); !at.isAfter(plan.to()); at = at.plus(HOUR)) {
            advanceTo(at);
        }
        return this;
    }

    /** To be called for each hour, or for what is shorter. */
    void advanceTo(Instant at) {
        firm.look(site.now());
        SiteBatch batch = site.advanceTo(at);
        for (SiteRecord.Happened event : batch.events()) {
            fed = event.at();
            firm.heard(event);
            told.happened(event);
            monitor.accept(event, this);
        }
        feed(batch);
    }

    private void feed(SiteBatch batch) {
        List<Reading> readings = batch.readings();
        int next = 0;
        for (long minute = batch.from().toEpochMilli(); minute < batch.to().toEpochMilli(); minute += MINUTE_MILLIS) {
            Instant end = Instant.ofEpochMilli(minute + MINUTE_MILLIS);
            fed = end;
            List<Reading> pack = new ArrayList<>();
            while (next < readings.size() && readings.get(next).timeMillis() <= minute + MINUTE_MILLIS) {
                pack.add(readings.get(next++));
            }
            send(pack, end);
            monitor.accept(new SiteRecord.Tick(end), this);
        }
    }

    private void send(List<Reading> pack, Instant at) {
        Optional<Outage> outage = outages.stream()
                .filter(o -> o.covers(at) && !firm.hasMendedLinkSince(o.from()))
                .findFirst();
        if (outage.isPresent()) {
            if (!outage.get().loses()) {
                held.addAll(pack);
            }
            return;
        }
        if (!held.isEmpty()) {
            // What waited comes machine by machine, oldest first, as a store gives it away.
            held.sort(Comparator.comparing(Reading::machine).thenComparing(Reading::timeMillis));
            accept(new SiteRecord.Pack(gateway, Optional.empty(), at, List.copyOf(held), 0));
            held.clear();
        }
        if (!pack.isEmpty()) {
            accept(new SiteRecord.Pack(gateway, Optional.empty(), at, pack, 0));
        }
    }

    private void accept(SiteRecord.Pack pack) {
        told.read(pack);
        monitor.accept(pack, this);
    }

    List<Finding> findings() {
        return findings;
    }

    ServiceFirm firm() {
        return firm;
    }

    @Override
    public void finding(Finding finding) {
        findings.add(finding);
        firm.told(finding);
        told.found(fed, finding);
    }

    @Override
    public void cycle(Cycle cycle) {
        told.made(fed, cycle);
    }

    @Override
    public void proof(Proof proof) {
        // The firm is not told whether its work held; it sees what is found again.
    }
}
