package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * A probe on a pipe shows the mains right after a fill and then goes towards the room, in an hour or two where nothing is drawn
 * (common practice: bare copper in still air). What a cycle is held to is the water of the mains.
 */
class StoodWaterTest {
    private static final double MAINS_CELSIUS = 8;
    private static final long EVERY_MILLIS = 300_000;
    private static final double TO_THE_ROOM_MILLIS = 5_400_000;

    private final PlateModel plate = new PlateModel(30, 0.2, true, true, false, 3);
    private final List<Reading> water = new ArrayList<>();
    private double mains = MAINS_CELSIUS;
    private double pipe = 25;
    private long shown = plate.now();

    /** The pipe until now, and then a fill. */
    private void fills() {
        stands();
        pipe = mains;
    }

    private void stands() {
        for (; shown < plate.now(); shown += EVERY_MILLIS) {
            pipe += (plate.ambientCelsius - pipe) * (1 - Math.exp(-EVERY_MILLIS / TO_THE_ROOM_MILLIS));
            water.add(Reading.number(PlateModel.MACHINE, Channel.WATER_TEMPERATURE, shown, pipe));
        }
    }

    private void cycles(int count) {
        for (int i = 0; i < count; i++) {
            plate.cycles(1);
            fills();
        }
    }

    private List<Double> watch() {
        List<Reading> all = new ArrayList<>(plate.readings);
        all.addAll(water);
        all.sort(Comparator.comparingLong(Reading::timeMillis).thenComparing(Reading::channel));
        return new Scene(PlateModel.MACHINE)
                .readings(all).cycles.stream()
                        .map(cycle -> cycle.waterCelsius().orElseThrow())
                        .toList();
    }

    private void isHeldToTheMainsFromTheSecondOn(int cycles) {
        List<Double> held = watch();
        assertThat(held).hasSizeGreaterThanOrEqualTo(cycles);
        assertThat(held.subList(1, held.size()))
                .allSatisfy(celsius -> assertThat(celsius).isCloseTo(MAINS_CELSIUS, within(1.5)));
    }

    @Test
    void hoursWithoutAFill_areNoWarmerMains() {
        cycles(1);
        for (int burst = 0; burst < 6; burst++) {
            cycles(3);
            plate.rest(5 * 3600, Phase.IDLE);
        }

        isHeldToTheMainsFromTheSecondOn(16);
    }

    @Test
    void aMachineThatMakesOneCycleAtATime_isHeldToTheMains_too() {
        for (int burst = 0; burst < 8; burst++) {
            cycles(1);
            plate.rest(3 * 3600, Phase.IDLE);
        }

        isHeldToTheMainsFromTheSecondOn(7);
    }

    @Test
    void aSeasonSwitchedOff_isForgotten() {
        cycles(30);
        plate.silent(true).rest(60 * 86_400, Phase.OFF).silent(false);
        shown = plate.now();
        mains = 16;
        pipe = plate.ambientCelsius;
        cycles(4);

        List<Double> held = watch();

        assertThat(held.get(29)).isCloseTo(MAINS_CELSIUS, within(1.5));
        assertThat(held.get(held.size() - 1)).isCloseTo(16, within(1.5));
    }
}
