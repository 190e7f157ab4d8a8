package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Two machines draw the same water, which warms by more than any season says; one of them has a sensor. */
class WaterOfTheSiteTest {
    private static final String OTHER = "ice-without-a-sensor";
    private static final double FIRST_CELSIUS = 9;
    private static final double KELVIN_A_DAY = 0.5;
    private static final int DAYS = 12;
    private static final double DAY_MILLIS = 86_400_000;

    private final PlateModel plate = new PlateModel(30, 0.2, true, true, false, 3);
    private final long began = plate.now();
    private final List<Reading> all = new ArrayList<>();

    private double water(long millis) {
        return FIRST_CELSIUS + KELVIN_A_DAY * (millis - began) / DAY_MILLIS;
    }

    private Scene lived(boolean hasSensor) {
        for (int day = 0; day < DAYS; day++) {
            plate.cycles(20).rest(86_400 * (day + 1) - (plate.now() - began) / 1000.0, Phase.IDLE);
        }
        for (Reading reading : plate.readings) {
            if (reading.channel() == Channel.EVAPORATOR_TEMPERATURE && hasSensor) {
                all.add(Reading.number(
                        PlateModel.MACHINE,
                        Channel.WATER_TEMPERATURE,
                        reading.timeMillis(),
                        water(reading.timeMillis())));
            }
            all.add(reading);
            all.add(new Reading(OTHER, reading.channel(), reading.timeMillis(), reading.value(), reading.text()));
        }
        all.sort(Comparator.comparingLong(Reading::timeMillis));
        return new Scene(PlateModel.MACHINE, OTHER).readings(all);
    }

    private static List<Cycle> ofTheOther(Scene scene) {
        return scene.cycles.stream()
                .filter(cycle -> cycle.machine().equals(OTHER))
                .toList();
    }

    @Test
    void machineWithoutASensor_goesWithTheSensorOfAnother_fromWhereItWas() {
        List<Cycle> cycles = ofTheOther(lived(true));
        Cycle third = cycles.stream()
                .filter(cycle -> cycle.waterSource().equals("site"))
                .findFirst()
                .orElseThrow();
        Cycle last = cycles.get(cycles.size() - 1);
        Cycle before = cycles.get(cycles.indexOf(third) - 1);

        assertThat(before.waterSource()).isEqualTo("season");
        assertThat(third.waterCelsius().orElseThrow())
                .as("no step where it is first heard")
                .isCloseTo(before.waterCelsius().orElseThrow(), within(0.2));
        double days = (last.end().toEpochMilli() - third.end().toEpochMilli()) / DAY_MILLIS;
        assertThat(days).isGreaterThan(7);
        double risen = last.waterCelsius().orElseThrow() - third.waterCelsius().orElseThrow();
        assertThat(risen)
                .as("two days and what it is smoothed by behind")
                .isBetween(KELVIN_A_DAY * (days - 3), KELVIN_A_DAY * days);
    }

    @Test
    void withoutAnySensor_itIsTheSeasons() {
        List<Cycle> cycles = ofTheOther(lived(false));

        assertThat(cycles)
                .hasSizeGreaterThan(200)
                .allSatisfy(cycle -> assertThat(cycle.waterSource()).isEqualTo("season"));
    }

    @Test
    void stoppedAfterEveryRecord_itGoesOnTheSame() {
        Scene scene = lived(true);

        assertThat(new Scene(PlateModel.MACHINE, OTHER)
                        .stoppingAfterEveryRecord()
                        .readings(all)
                        .cycles)
                .isEqualTo(scene.cycles);
    }
}
