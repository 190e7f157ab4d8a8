package dev.rimecast.analytics.fleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.monitor.Recorded;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SimulatedSite;
import dev.rimecast.simulator.fleet.SiteBatch;
import dev.rimecast.simulator.trial.TrialChannels;
import dev.rimecast.simulator.trial.TrialFleet;
import dev.rimecast.simulator.trial.TrialSettings;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

/**
 * What a machine has learned is saved only when it says that it has changed. One change that it does not tell of, and a monitor
 * that is made from what was saved knows less than one that never stopped.
 */
class WhatIsSavedTest {
    private static final int DAYS = 25;
    private static final int RECORDS_BETWEEN_STOPS = 97;

    private final Recorded steady = new Recorded();
    private final Recorded stopped = new Recorded();
    private SiteMonitor neverStops = SiteMonitor.fresh("none", Policy.standard());
    private SiteMonitor stops = SiteMonitor.fresh("none", Policy.standard());
    private long records;

    @Test
    void monitorThatIsMadeAnew_hasTheStateOfOneThatNeverStopped_whateverHappens() {
        FleetPlan plan = TrialFleet.plan(
                new TrialSettings(77, 3, DAYS, Duration.ofSeconds(60), TrialChannels.FULL, TrialSettings.allCauses()));
        for (SimulatedSite site : new SimulatedFleet(plan).sites()) {
            live(plan, site);
        }
        assertThat(steady.findings).isNotEmpty();
    }

    private void live(FleetPlan plan, SimulatedSite site) {
        String id = site.site().id();
        neverStops = SiteMonitor.fresh(id, Policy.standard());
        stops = SiteMonitor.fresh(id, Policy.standard());
        steady.states.clear();
        stopped.states.clear();
        List<Machine> machines = plan.register().machinesAt(id);
        machines.forEach(machine -> take(new SiteRecord.Registered(plan.from(), machine)));
        for (Instant at = plan.from().plusSeconds(60); !at.isAfter(plan.to()); at = at.plusSeconds(60)) {
            SiteBatch batch = site.advanceTo(at);
            batch.events().forEach(this::take);
            List<Reading> readings = batch.readings();
            if (!readings.isEmpty()) {
                take(new SiteRecord.Pack(machines.get(0).gateway(), Optional.empty(), at, readings, 0));
            }
            take(new SiteRecord.Tick(at));
        }
        neverStops.saveTouched(steady::keep);
        stops.saveTouched(stopped::keep);

        assertThat(new TreeSet<>(stopped.states.keySet())).isEqualTo(new TreeSet<>(steady.states.keySet()));
        steady.states.forEach((part, bytes) -> assertThat(stopped.states.get(part))
                .as("state %s of %s", part, id)
                .isEqualTo(bytes));
        assertThat(stopped.findings).isEqualTo(steady.findings);
    }

    private void take(SiteRecord siteRecord) {
        neverStops.accept(siteRecord, steady);
        stops.accept(siteRecord, stopped);
        stops.saveTouched(stopped::keep);
        if (++records % RECORDS_BETWEEN_STOPS == 0) {
            stops = SiteMonitor.restore(stops.site(), stopped.states);
        }
    }
}
