package dev.rimecast.analytics.otherfleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.file.TruthFile;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class OtherFleetTest {
    private static final double DAY_SECONDS = 86_400;

    /** Sound machines stay clear of their own limits, in every room from winter to a heat wave. */
    @Test
    void soundMachines_inAllRooms_stayClearOfTheirLimits() {
        Map<Channel, Double> highest = new EnumMap<>(Channel.class);
        for (long seed = 0; seed < 4; seed++) {
            OtherFleet fleet = new OtherFleet(new OtherFleetPlan(seed, 6, 60, 60, ChannelSets.FULL, 1));
            for (OtherSite site : fleet.sites()) {
                for (Row row : site.advanceTo(60 * DAY_SECONDS)) {
                    row.readings().forEach(reading -> highest.merge(reading.channel(), reading.value(), Math::max));
                }
                assertThat(site.stations)
                        .allMatch(station ->
                                station.machine().controller.protection().firstStop() < 0)
                        .allMatch(station -> station.machine().madeKg > 0);
            }
        }

        assertThat(highest.get(Channel.PULL_DOWN_TIME)).isLessThan(0.7 * Settings.PULL_DOWN_LIMIT_SECONDS);
        assertThat(highest.get(Channel.FREEZE_TIME)).isLessThan(0.8 * Settings.LONGEST_FREEZE_SECONDS);
        assertThat(highest.get(Channel.DRAIN_LEVEL_TIME)).isLessThan(0.85 * IceMachine.DRAIN_LIMIT_SECONDS);
        assertThat(highest.get(Channel.CONDENSER_TEMPERATURE)).isLessThan(Settings.CONDENSING_LIMIT_CELSIUS - 4);
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
        OtherFleetPlan plan = new OtherFleetPlan(7, 6, 30, 120, ChannelSets.FULL, 0.5);

        OtherFleetFiles.write(plan, directory);

        Instant end = plan.start().plusSeconds(30 * 86_400L);
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
