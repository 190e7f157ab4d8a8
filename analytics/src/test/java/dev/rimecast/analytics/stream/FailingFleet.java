package dev.rimecast.analytics.stream;

import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;

/**
 * Readings of a site's machines that make ice for some days, one of them with a condenser that gets dirtier until its
 * controller would stop it. Shapes only, no physics: what matters is that there are cycles and findings to compare.
 */
final class FailingFleet {
    static final int CYCLE_MINUTES = 25;
    private static final int FREEZE_MINUTES = 22;

    private final String site;
    private final List<String> machines;
    private final SplittableRandom noise;
    private int packs;

    FailingFleet(String site, List<String> machines, long seed) {
        this.site = site;
        this.machines = machines;
        this.noise = new SplittableRandom(seed);
    }

    /** One pack with the readings of all machines from {@code fromMinute} on, in time order. */
    SiteRecord pack(int fromMinute, int minutes) {
        List<Reading> readings = new ArrayList<>();
        for (int minute = fromMinute; minute < fromMinute + minutes; minute++) {
            for (int index = 0; index < machines.size(); index++) {
                add(readings, machines.get(index), minute, index == 0);
            }
        }
        Instant received = SiteLogs.START.plusSeconds(60L * (fromMinute + minutes));
        return new SiteRecord.Pack("gw-" + site, Optional.of(new PackNumber("boot-1", ++packs)), received, readings, 0);
    }

    private void add(List<Reading> readings, String machine, int minute, boolean failing) {
        long at = SiteLogs.START.plusSeconds(60L * minute).toEpochMilli();
        int inCycle = minute % CYCLE_MINUTES;
        boolean freezing = inCycle < FREEZE_MINUTES;
        double dirt = failing ? Math.max(0, minute - 2 * 1440) / 1440.0 : 0;
        double evaporator = freezing ? 14 - inCycle * (1.6 - 0.2 * dirt) : 14 + (inCycle - FREEZE_MINUTES);
        double condenser = freezing ? 38 + 9 * dirt - inCycle * 0.1 : 33;
        readings.add(Reading.number(machine, Channel.EVAPORATOR_TEMPERATURE, at, evaporator + jitter()));
        readings.add(Reading.number(machine, Channel.CONDENSER_TEMPERATURE, at, condenser + jitter()));
        readings.add(Reading.number(machine, Channel.AMBIENT_TEMPERATURE, at, 24 + jitter()));
        readings.add(Reading.phase(machine, at, freezing ? Phase.FREEZE : Phase.HARVEST));
    }

    private double jitter() {
        return noise.nextDouble(-0.2, 0.2);
    }
}
