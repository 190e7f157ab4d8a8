package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.place.Climate;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.telemetry.machine.Site;
import java.time.Instant;
import java.util.List;

/**
 * One site of a planned fleet.
 *
 * @param heatWaves in addition to the recorded weather
 */
public record SitePlan(
        Site site, SiteKind kind, Climate climate, List<MachinePlan> machines, List<HeatWave> heatWaves) {

    /** Days on which the room is warmer, K. */
    public record HeatWave(Instant from, Instant to, double kelvin) {}

    public SitePlan {
        machines = List.copyOf(machines);
        heatWaves = List.copyOf(heatWaves);
        for (MachinePlan plan : machines) {
            if (!plan.machine().site().equals(site.id())) {
                throw new IllegalArgumentException(plan.id() + " stands on "
                        + plan.machine().site() + " in its row and on " + site.id() + " in the plan");
            }
        }
    }

    double heatWaveKelvin(long millis) {
        double kelvin = 0;
        for (HeatWave wave : heatWaves) {
            if (millis >= wave.from().toEpochMilli() && millis < wave.to().toEpochMilli()) {
                kelvin += wave.kelvin();
            }
        }
        return kelvin;
    }
}
