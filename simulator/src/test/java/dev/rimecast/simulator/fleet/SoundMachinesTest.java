package dev.rimecast.simulator.fleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.simulator.place.Climate;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine.Limits;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * A sound machine of any build stays inside its own limits wherever a trial puts it, from 12 to 34 °C of air: otherwise an
 * alert about it would be no false alarm. The limits are those of its register row; the margins are our own.
 */
class SoundMachinesTest {
    private static final int BUILDS = 8;
    private static final double[] AIR_CELSIUS = {12, 23, 34};
    private static final double[] WATER_CELSIUS = {7, 24};
    private static final int MINUTES = 10 * 60;

    @ParameterizedTest
    @EnumSource(Model.class)
    void soundMachine_inAnyRoomOfATrial_staysClearlyInsideItsLimits(Model model) {
        List<MachinePlan> machines = IntStream.range(0, BUILDS)
                .mapToObj(i -> model.machine(model.group() + '-' + i, "site-1", "gw-1", ChannelSet.FULL, 0.6))
                .toList();
        SitePlan site = new SitePlan(Site.basic("site-1"), SiteKind.WARD, Climate.RECORDED, machines, List.of());
        FleetPlan plan = Plans.plan(31, Duration.ofDays(1), Duration.ofSeconds(60), List.of(site));
        for (MachinePlan machine : machines) {
            for (double air : AIR_CELSIUS) {
                for (double water : WATER_CELSIUS) {
                    check(machine, run(plan, machine, air, water), machine.id() + " at " + air + '/' + water);
                }
            }
        }
    }

    private static void check(MachinePlan machine, List<Reading> readings, String where) {
        Limits limits = machine.machine().limits();
        assertThat(readings).as(where).noneMatch(r -> r.channel() == Channel.PHASE && r.phase() == Phase.STOPPED);
        assertThat(values(readings, Channel.PULL_DOWN_TIME))
                .as(where)
                .hasSizeGreaterThan(10)
                .allMatch(s -> s < 0.75 * limits.pullDownSeconds().orElseThrow());
        assertThat(values(readings, Channel.CONDENSER_TEMPERATURE))
                .as(where)
                .allMatch(c -> c < limits.condensingCelsius().orElseThrow() - 1.5);
        assertThat(values(readings, Channel.HARVEST_TIME)).as(where).allMatch(s -> s < 400);
        if (limits.drainLevelSeconds().isPresent()) {
            assertThat(signals(readings))
                    .as(where)
                    .isNotEmpty()
                    .allMatch(s -> s < 0.9 * limits.drainLevelSeconds().getAsDouble());
        }
    }

    private static List<Double> values(List<Reading> readings, Channel channel) {
        return readings.stream()
                .filter(r -> r.channel() == channel)
                .map(Reading::value)
                .toList();
    }

    /** Lengths of the drain's level signal, s. */
    private static List<Double> signals(List<Reading> readings) {
        List<Double> lengths = new ArrayList<>();
        long since = -1;
        for (Reading reading : readings) {
            if (reading.channel() == Channel.DRAIN_LEVEL) {
                if (!reading.isSet() && since >= 0) {
                    lengths.add((reading.timeMillis() - since) / 1000.0);
                }
                since = reading.isSet() ? reading.timeMillis() : -1;
            }
        }
        return lengths;
    }

    private static List<Reading> run(FleetPlan plan, MachinePlan machine, double air, double water) {
        SimulatedMachine simulated = new SimulatedMachine(plan, machine, air, water);
        List<Reading> readings = new ArrayList<>();
        long from = plan.from().toEpochMilli();
        for (int minute = 0; minute < MINUTES; minute++) {
            long now = from + minute * 60_000L;
            simulated.bin().take(1);
            simulated.run(now, now + 60_000, air, water, 600);
            readings.addAll(simulated.takeReadings());
        }
        return readings;
    }
}
