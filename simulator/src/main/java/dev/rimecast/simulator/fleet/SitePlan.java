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
 * @param rushes when more ice is used than usual, or less
 * @param lids bins that stand open
 */
public record SitePlan(
        Site site,
        SiteKind kind,
        Climate climate,
        List<MachinePlan> machines,
        List<HeatWave> heatWaves,
        List<Rush> rushes,
        List<OpenLid> lids) {

    /** Time in which the room is warmer, or colder, K. */
    public record HeatWave(Instant from, Instant to, double kelvin) {}

    /** Time in which {@code factor} times the usual is used: above 1 for a feast, 0 while closed. */
    public record Rush(Instant from, Instant to, double factor) {}

    /** A bin that nobody shut: its ice melts faster and cools less what is above it. */
    public record OpenLid(String machine, Instant from, Instant to) {}

    /** A site on which people use ice as usual. */
    public SitePlan(Site site, SiteKind kind, Climate climate, List<MachinePlan> machines, List<HeatWave> heatWaves) {
        this(site, kind, climate, machines, heatWaves, List.of(), List.of());
    }

    public SitePlan {
        machines = List.copyOf(machines);
        heatWaves = List.copyOf(heatWaves);
        rushes = List.copyOf(rushes);
        lids = List.copyOf(lids);
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
            if (isIn(millis, wave.from(), wave.to())) {
                kelvin += wave.kelvin();
            }
        }
        return kelvin;
    }

    double useFactor(long millis) {
        double factor = 1;
        for (Rush rush : rushes) {
            if (isIn(millis, rush.from(), rush.to())) {
                factor *= rush.factor();
            }
        }
        return factor;
    }

    boolean isLidOpen(String machine, long millis) {
        for (OpenLid lid : lids) {
            if (isIn(millis, lid.from(), lid.to()) && lid.machine().equals(machine)) {
                return true;
            }
        }
        return false;
    }

    private static boolean isIn(long millis, Instant from, Instant to) {
        return millis >= from.toEpochMilli() && millis < to.toEpochMilli();
    }
}
