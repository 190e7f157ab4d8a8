package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The machine stands in a cool room with a sensor, its condenser out of doors, where nothing but itself tells how warm it is. */
class RemoteCondenserTest {
    private static final double ROOM = 22;
    /** s of freeze for each kelvin at the condenser: 3.3 %, as the simulated models of this project have it. */
    private static final double FREEZE_PER_KELVIN = 40;

    /** Days out of doors, each warmer in the afternoon than at night. */
    private static void days(PlateModel plate, int days, double warmest) {
        double freeze = plate.freezeSeconds;
        for (int day = 0; day < days; day++) {
            for (int i = 0; i < 44; i++) {
                plate.ambientCelsius = warmest - 5 + 5 * Math.sin(2 * Math.PI * i / 44);
                plate.freezeSeconds = freeze + FREEZE_PER_KELVIN * (plate.ambientCelsius - 20);
                plate.cycles(1);
            }
            plate.rest(2 * 3600, Phase.IDLE);
        }
        plate.freezeSeconds = freeze;
    }

    private static Scene watch(PlateModel plate, Machine.Cooling cooling) {
        return new Scene().take(registered(cooling)).readings(inTheRoom(plate.readings));
    }

    private static SiteRecord registered(Machine.Cooling cooling) {
        return registered(PlateModel.MACHINE, cooling);
    }

    private static SiteRecord registered(String id, Machine.Cooling cooling) {
        Machine machine = Machine.basic(id, Scene.SITE, Scene.GATEWAY)
                .withBuild(new Machine.Build(Optional.empty(), Optional.empty(), Optional.of(cooling)));
        return new SiteRecord.Registered(Instant.EPOCH, machine);
    }

    /** With the sensor of the room in place of the condenser's air. */
    private static List<Reading> inTheRoom(List<Reading> drawn) {
        return drawn.stream()
                .map(reading -> reading.channel() == Channel.AMBIENT_TEMPERATURE
                        ? Reading.number(PlateModel.MACHINE, Channel.AMBIENT_TEMPERATURE, reading.timeMillis(), ROOM)
                        : reading)
                .toList();
    }

    private static PlateModel throughAHeatWave() {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 3);
        days(plate, 20, 25);
        days(plate, 4, 36);
        return plate;
    }

    @Test
    void heatOutOfDoors_isNoFindingOfAMachineWhoseCondenserStandsThere() {
        Scene remote = watch(throughAHeatWave(), Machine.Cooling.REMOTE);

        assertThat(remote.findings)
                .filteredOn(finding -> !finding.condition().isCare())
                .isEmpty();
        assertThat(remote.cycles.get(remote.cycles.size() - 1).ambientSource()).isEqualTo("condensing");
    }

    /** The same readings of a condenser in that room are a fault of it. */
    @Test
    void sameReadingsOfACondenserInTheRoom_areOne() {
        Scene air = watch(throughAHeatWave(), Machine.Cooling.AIR);

        assertThat(air.findings)
                .extracting(Finding::condition)
                .contains(Condition.RISING_CONDENSING_TEMPERATURE, Condition.LONG_FREEZE);
    }

    /** Freezes that are too long for the condenser's own temperature are so by something else: less air would have warmed it. */
    @Test
    void lostCapacityWithoutAWarmerCondenser_isNoWantOfAir() {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 3);
        for (int day = 0; day < 20; day++) {
            plate.cycles(44).rest(2 * 3600, Phase.IDLE);
        }
        plate.freezeSeconds *= 1.25;
        plate.pullDownSeconds *= 1.25;
        Scene scene = watch(plate.cycles(60), Machine.Cooling.REMOTE);

        List<Finding> found = scene.findings.stream()
                .filter(finding -> finding.condition() == Condition.LONG_FREEZE)
                .toList();
        assertThat(found)
                .isNotEmpty()
                .allSatisfy(finding -> assertThat(finding.causes())
                        .isNotEmpty()
                        .extracting(Finding.ProbableCause::cause)
                        .doesNotContain(Cause.AIRFLOW_RESTRICTED, Cause.FAN_WEAK, Cause.FAN_FAILED));
    }

    /** The register was wrong about it: from the correction on another air counts, and nothing that was learned before. */
    @Test
    void correctedRegister_letsItLearnAnew() {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 3);
        plate.splitKelvin = 30;
        days(plate, 20, 25);
        Scene scene = watch(plate, Machine.Cooling.AIR);
        int before = scene.findings.size();
        int sent = plate.readings.size();
        days(plate, 6, 25);

        scene.take(registered(Machine.Cooling.REMOTE))
                .readings(inTheRoom(plate.readings.subList(sent, plate.readings.size())));

        assertThat(scene.findings.subList(before, scene.findings.size()))
                .filteredOn(finding -> !finding.condition().isCare() && finding.step() == Finding.Step.RAISED)
                .isEmpty();
        assertThat(scene.cycles.stream()
                        .filter(cycle -> cycle.ambientSource().equals("condensing"))
                        .limit(15))
                .as("nothing is expected of a freeze before it has been learned")
                .hasSize(15)
                .allSatisfy(cycle -> assertThat(cycle.residuals())
                        .extracting(Cycle.Residual::feature)
                        .doesNotContain(Feature.FREEZE));
    }

    /** Two machines of one room; from the tenth day on the sensor of the first, and its condenser, are 7 K warmer than that of the other. */
    private static Scene besideAnother(Machine.Cooling warmer, Machine.Cooling other) {
        PlateModel warm = new PlateModel(60, 0.2, true, true, false, 1);
        PlateModel usual = new PlateModel(60, 0.2, true, true, false, 2);
        warm.cycles(600).inletKelvin = 7;
        warm.cycles(300);
        usual.cycles(900);
        List<Reading> both = Stream.concat(warm.readings.stream(), usual.readingsOf("ice-2").stream())
                .sorted(Comparator.comparingLong(Reading::timeMillis))
                .toList();
        return new Scene()
                .take(registered(warmer))
                .take(registered("ice-2", other))
                .readings(both);
    }

    /** Neither is a sensor out of doors held against the room, nor one of the room against the air out of doors. */
    @ParameterizedTest
    @CsvSource({"AIR, AIR, true", "REMOTE, AIR, false", "AIR, REMOTE, false"})
    void sensorOutOfDoors_isNotComparedWithTheRoom(
            Machine.Cooling warmer, Machine.Cooling other, boolean isRecirculating) {
        assertThat(besideAnother(warmer, other).of(Condition.RISING_CONDENSING_TEMPERATURE).stream()
                        .flatMap(finding -> finding.causes().stream())
                        .anyMatch(cause -> cause.cause() == Cause.HOT_AIR_RECIRCULATING))
                .isEqualTo(isRecirculating);
    }

    /** Water of 12 °C is drawn for some minutes of each cycle; then it stands in the pipe of a room of 20 °C. */
    private static Scene inTheCold(Machine.Cooling cooling) {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 3);
        plate.ambientCelsius = -6;
        plate.cycles(40);
        List<Reading> all = new ArrayList<>(plate.readings);
        long first = plate.freezeStarts.get(0);
        for (long at = first; at < plate.now(); at += 60_000) {
            boolean isDrawn = (at - first) % 1_430_000 < 180_000;
            all.add(Reading.number(PlateModel.MACHINE, Channel.WATER_TEMPERATURE, at, isDrawn ? 12 : 20));
        }
        all.sort(Comparator.comparingLong(Reading::timeMillis));
        return new Scene().take(registered(cooling)).readings(all);
    }

    @Test
    void waterOfAMachineWhoseSensorIsOutOfDoors_isTheColdestReading() {
        Scene remote = inTheCold(Machine.Cooling.REMOTE);
        assertThat(remote.cycles.get(remote.cycles.size() - 1).waterCelsius()).hasValue(12);

        Scene air = inTheCold(Machine.Cooling.AIR);
        assertThat(air.cycles.get(air.cycles.size() - 1).waterCelsius())
                .as("of a room that cold it is the one furthest from it")
                .hasValue(20);
    }

    @Test
    void frostOutOfDoors_isNotOutOfTheRangeOfTheRoom() {
        assertThat(inTheCold(Machine.Cooling.REMOTE).of(Condition.AMBIENT_OUT_OF_RANGE))
                .isEmpty();
        assertThat(inTheCold(Machine.Cooling.AIR).of(Condition.AMBIENT_OUT_OF_RANGE))
                .isNotEmpty();
    }

    /** What the heat out of doors does not explain is found as ever. */
    @Test
    void freezeThatGetsLongerByItself_isFound() {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 3);
        days(plate, 20, 25);
        plate.freezeSeconds *= 1.3;
        days(plate, 6, 25);

        assertThat(watch(plate, Machine.Cooling.REMOTE).findings)
                .extracting(Finding::condition)
                .contains(Condition.LONG_FREEZE);
    }
}
