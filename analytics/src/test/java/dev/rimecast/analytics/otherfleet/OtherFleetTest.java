package dev.rimecast.analytics.otherfleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.fleetfiles.Row;
import dev.rimecast.telemetry.file.TruthFile;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class OtherFleetTest {
    private static final double DAY_SECONDS = 86_400;

    /** Sound machines stay clear of their own limits, in every room from winter to a heat wave. */
    @Test
    void soundMachines_inAllRooms_stayClearOfTheirLimits() {
        Map<Channel, Double> highest = new ConcurrentHashMap<>();
        for (long seed = 0; seed < 4; seed++) {
            OtherFleet fleet = new OtherFleet(new OtherFleetPlan(seed, 3, 30, 120, ChannelSets.FULL, 1));
            fleet.sites().parallelStream()
                    .flatMap(site -> site.advanceTo(30 * DAY_SECONDS).stream())
                    .flatMap(row -> row.readings().stream())
                    .forEach(reading -> highest.merge(reading.channel(), reading.value(), Math::max));
            assertThat(fleet.sites().stream().flatMap(site -> site.stations.stream()))
                    .allMatch(
                            station -> station.machine().controller.protection().firstStop() < 0)
                    .allMatch(station -> station.machine().madeKg > 0);
        }

        assertThat(highest.get(Channel.PULL_DOWN_TIME)).isLessThan(0.7 * Settings.PULL_DOWN_LIMIT_SECONDS);
        assertThat(highest.get(Channel.FREEZE_TIME)).isLessThan(0.8 * Settings.LONGEST_FREEZE_SECONDS);
        assertThat(highest.get(Channel.HARVEST_TIME)).isLessThan(0.9 * Settings.LONGEST_HARVEST_SECONDS);
        assertThat(highest.get(Channel.DRAIN_LEVEL_TIME)).isLessThan(0.85 * IceMachine.DRAIN_LIMIT_SECONDS);
        assertThat(highest.get(Channel.CONDENSER_TEMPERATURE)).isLessThan(Settings.CONDENSING_LIMIT_CELSIUS - 4);
    }

    /** The order and times of a fault's life: nothing before its onset, a call only after a stop. */
    @Test
    void faults_beforeTheirOnset_changeNothing() {
        OtherFleetPlan faulty = new OtherFleetPlan(9, 4, 20, 60, ChannelSets.FULL, 0);
        OtherFleet fleet = new OtherFleet(faulty);
        for (OtherSite site : fleet.sites()) {
            for (Station station : site.stations) {
                double onset = station.plan.fault().orElseThrow().onsetSeconds();
                assertThat(onset).isBetween(0.1 * 20 * DAY_SECONDS, 0.6 * 20 * DAY_SECONDS);
            }
            site.advanceTo(0.18 * 20 * DAY_SECONDS);
            assertThat(site.stations)
                    .allMatch(
                            station -> station.machine().controller.protection().firstStop() < 0);
        }
    }

    @Test
    void causes_ofManyMachines_areAllOfTheContractsButTheGroup() {
        OtherFleet fleet = new OtherFleet(new OtherFleetPlan(2, 60, 40, 60, ChannelSets.BARE, 0));

        assertThat(fleet.sites().stream()
                        .flatMap(site -> site.stations.stream())
                        .map(station ->
                                station.plan.fault().orElseThrow().kind().cause()))
                .contains(EnumSet.complementOf(EnumSet.of(Cause.WATER_LOSS)).toArray(Cause[]::new));
    }

    @Test
    void fleet_ofOneSeed_isTheSameTwice() {
        OtherFleetPlan plan = new OtherFleetPlan(5, 2, 12, 60, ChannelSets.MIXED, 0.5);
        List<Row> first = new OtherFleet(plan).sites().get(0).advanceTo(2 * DAY_SECONDS);
        List<Row> second = new OtherFleet(plan).sites().get(0).advanceTo(2 * DAY_SECONDS);

        assertThat(first).isNotEmpty().isEqualTo(second);
    }

    @Test
    void channels_bare_areProbesAndClampOnly() {
        OtherFleet fleet = new OtherFleet(new OtherFleetPlan(3, 4, 12, 60, ChannelSets.BARE, 0.5));

        assertThat(fleet.sites().stream()
                        .flatMap(site -> site.advanceTo(DAY_SECONDS).stream())
                        .flatMap(row -> row.readings().stream())
                        .map(Reading::channel))
                .contains(Channel.EVAPORATOR_TEMPERATURE, Channel.CONDENSER_TEMPERATURE)
                .isSubsetOf(Channel.EVAPORATOR_TEMPERATURE, Channel.CONDENSER_TEMPERATURE, Channel.SUPPLY_CURRENT);
    }

    @Test
    void files_ofAFleet_holdTheTruthWithinItsTime(@TempDir Path directory) throws IOException {
        OtherFleetPlan plan = new OtherFleetPlan(7, 5, 20, 300, ChannelSets.FULL, 0.5);

        OtherFleetFiles.write(plan, directory);

        Instant end = plan.start().plusSeconds(20 * 86_400L);
        List<TruthRow> truth = TruthFile.read(directory.resolve("truth.csv"));
        List<TruthRow> faulty =
                truth.stream().filter(row -> row.cause().isPresent()).toList();
        assertThat(faulty.size()).isBetween(truth.size() / 2 - 1, truth.size() / 2 + 1);
        assertThat(faulty)
                .allMatch(row -> row.onset().orElseThrow().isAfter(plan.start()))
                .allMatch(
                        row -> row.deadline().orElseThrow().isAfter(row.onset().orElseThrow()))
                .allMatch(row -> row.deadline().orElseThrow().isBefore(end));
        assertThat(Files.size(directory.resolve("telemetry.csv.gz"))).isPositive();
    }
}
