package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

/** Sensors that show what they can't, each of its own way. */
class SensorsTest {
    private static final Channel PLATE = Channel.EVAPORATOR_TEMPERATURE;
    private static final Channel CONDENSER = Channel.CONDENSER_TEMPERATURE;

    private static PlateModel plate(int stepSeconds) {
        return new PlateModel(stepSeconds, 0.2, true, true, false, 1);
    }

    /** Every reading of a channel from a time on through a function. */
    private static List<Reading> changed(
            List<Reading> readings, Channel channel, long from, DoubleUnaryOperator change) {
        List<Reading> all = new ArrayList<>();
        for (Reading r : readings) {
            boolean isChanged = r.channel() == channel && r.timeMillis() >= from;
            all.add(
                    isChanged
                            ? Reading.number(r.machine(), channel, r.timeMillis(), change.applyAsDouble(r.value()))
                            : r);
        }
        return all;
    }

    private static List<Reading> swapped(List<Reading> readings, long from, long to) {
        return readings.stream()
                .map(r -> {
                    boolean isOther = r.timeMillis() >= from && r.timeMillis() < to;
                    if (!isOther || (r.channel() != PLATE && r.channel() != CONDENSER)) {
                        return r;
                    }
                    Channel channel = r.channel() == PLATE ? CONDENSER : PLATE;
                    return Reading.number(r.machine(), channel, r.timeMillis(), r.value());
                })
                .toList();
    }

    private static Scene watch(List<Reading> readings) {
        return new Scene(PlateModel.MACHINE).readings(readings);
    }

    private static double hours(Finding finding, long since) {
        return (finding.at().toEpochMilli() - since) / 3_600_000.0;
    }

    @Test
    void probes_swapped_areFoundWithinTwoHoursOfRunningAndClearedWhenPutRight() {
        PlateModel plate = plate(60).cycles(60);
        long from = plate.now();
        long to = plate.cycles(20).now();
        Scene scene = watch(swapped(plate.cycles(20).readings, from, to));

        List<Finding> found = scene.of(Condition.SENSOR_IMPLAUSIBLE);
        assertThat(found).extracting(Finding::step).containsExactly(Step.RAISED, Step.CLEARED);
        assertThat(hours(found.get(0), from)).isBetween(0.0, 2.0);
        assertThat(found.get(0).probableCause().orElseThrow().cause()).isEqualTo(Cause.PROBES_SWAPPED);
        assertThat(scene.findings).extracting(Finding::condition).containsOnly(Condition.SENSOR_IMPLAUSIBLE);
    }

    /** A probe of this size follows with 20 s (the simulated one does): it can't leave for 30 K and be back in seconds. */
    @Test
    void evaporator_jumpingAndComingBack_isFoundAtTheThirdTimeAndNotBefore() {
        PlateModel plate = plate(10).cycles(10);
        List<Reading> readings = new ArrayList<>(plate.readings);
        List<Long> spikes = new ArrayList<>();
        for (int i = 0; i < readings.size(); i++) {
            Reading r = readings.get(i);
            if (r.channel() == PLATE && i > 500 && i % 700 < 4 && spikes.size() < 3) {
                readings.set(i, Reading.number(r.machine(), PLATE, r.timeMillis(), r.value() + 30));
                spikes.add(r.timeMillis());
            }
        }

        List<Finding> found = watch(readings).of(Condition.SENSOR_IMPLAUSIBLE);

        assertThat(spikes).hasSize(3);
        assertThat(found).hasSize(1);
        assertThat(found.get(0).at().toEpochMilli()).isBetween(spikes.get(2), spikes.get(2) + 30_000);
        assertThat(found.get(0).probableCause().orElseThrow().cause()).isEqualTo(Cause.EVAPORATOR_SENSOR_FAILED);
    }

    /** 85 °C is what a common digital sensor says at its power-on [its data sheet, from memory]; one such row is no movement of a condenser. */
    @Test
    void condenser_oneLoneReading_movesNothing() {
        PlateModel plate = plate(30).cycles(30);
        long resting = plate.now();
        plate.rest(4 * 3600, Phase.IDLE);
        long lone = resting + 2 * 3_600_000L;
        List<Reading> readings = changed(plate.cycles(5).readings, CONDENSER, lone, celsius -> celsius).stream()
                .map(r -> r.channel() == CONDENSER && r.timeMillis() >= lone && r.timeMillis() < lone + 30_000
                        ? Reading.number(r.machine(), CONDENSER, r.timeMillis(), 85)
                        : r)
                .toList();
        assertThat(readings.stream().filter(r -> r.value() == 85)).hasSize(1);

        assertThat(watch(ofPlate(readings, resting, hours -> 11.2, lone + 3_600_000L)).findings)
                .isEmpty();
    }

    /** A probe in the air beside its pipe: it moves by less than a kelvin in cycles, and for good only when the machine rests. */
    @Test
    void condenser_offItsPlace_isToldEverMoreSeldom_butADeadOneStill() {
        PlateModel plate = plate(60);
        for (int day = 0; day < 40; day++) {
            plate.cycles(20).rest(3 * 3600, Phase.IDLE);
        }
        long dead = plate.now();
        plate.cycles(200);
        double[] slow = {35};
        List<Reading> damped = changed(plate.readings, CONDENSER, 0, celsius -> {
            slow[0] += (celsius - slow[0]) * 0.02;
            return slow[0];
        });
        List<Finding> found =
                watch(changed(damped, CONDENSER, dead, celsius -> 35)).of(Condition.SENSOR_IMPLAUSIBLE);

        assertThat(found.stream().filter(f -> f.step() == Step.RAISED && f.at().toEpochMilli() < dead))
                .hasSizeBetween(1, 6);
        assertThat(found.get(found.size() - 1).step()).isEqualTo(Step.RAISED);
        assertThat(hours(found.get(found.size() - 1), dead)).isBetween(1.0, 60.0);
    }

    /** The shortest harvests take 60 s [range of the trade]: at one reading a minute they look like a jump. */
    @Test
    void evaporator_shortHarvestsAtOneReadingAMinute_areNoJumps() {
        PlateModel plate = plate(60);
        plate.harvestSeconds = 60;
        plate.pullDownSeconds = 60;

        assertThat(watch(plate.cycles(200).readings).of(Condition.SENSOR_IMPLAUSIBLE))
                .isEmpty();
    }

    @Test
    void condenser_shiftedAgainstAmbientAtRest_isFoundWithTheSecondRest() {
        PlateModel plate = plate(60);
        for (int day = 0; day < 6; day++) {
            plate.cycles(30).rest(2 * 3600, Phase.IDLE);
        }
        long from = plate.now();
        for (int day = 0; day < 3; day++) {
            plate.cycles(30).rest(2 * 3600, Phase.IDLE);
        }
        Scene scene = watch(changed(plate.readings, CONDENSER, from, celsius -> celsius + 5));

        List<Finding> found = scene.of(Condition.SENSOR_IMPLAUSIBLE);
        assertThat(found).hasSize(1);
        assertThat(hours(found.get(0), from)).isBetween(24.0, 30.0);
        assertThat(found.get(0).summary()).containsPattern("(4.9|5.0|5.1) K more");
        assertThat(found.get(0).causes().get(0).cause()).isEqualTo(Cause.CONDENSER_SENSOR_FAILED);
        assertThat(found.get(0).causes().get(0).evidenceAgainst()).isNotEmpty();
    }

    /** Water keeps a condenser at its own temperature, whatever the room's is. */
    @Test
    void condenser_inWater_isNotHeldAgainstTheRoom() {
        PlateModel plate = plate(60);
        for (int day = 0; day < 9; day++) {
            plate.cycles(30).rest(2 * 3600, Phase.IDLE);
        }
        long from = plate.now();
        for (int day = 0; day < 3; day++) {
            plate.cycles(30).rest(2 * 3600, Phase.IDLE);
        }
        List<Reading> readings = changed(plate.readings, CONDENSER, from, celsius -> celsius - 9);
        Machine inWater = Machine.basic(PlateModel.MACHINE, Scene.SITE, Scene.GATEWAY)
                .withBuild(new Machine.Build(Optional.empty(), Optional.empty(), Optional.of(Cooling.WATER)));

        Scene scene = new Scene()
                .take(new SiteRecord.Registered(Instant.EPOCH, inWater))
                .readings(readings);

        assertThat(watch(readings).of(Condition.SENSOR_IMPLAUSIBLE)).isNotEmpty();
        assertThat(scene.of(Condition.SENSOR_IMPLAUSIBLE)).isEmpty();
    }

    /** Cold before a break of hours and cold after it is not cold all the time: it has frozen again meanwhile. */
    @Test
    void plate_coldOnBothSidesOfABreak_isNoSensor() {
        PlateModel plate = plate(60).cycles(30).freeze(900).rest(240, Phase.IDLE);
        plate.silent(true).cycles(10).freeze(900).silent(false).rest(3600, Phase.IDLE);
        assertThat(watch(plate.cycles(5).readings).of(Condition.SENSOR_IMPLAUSIBLE))
                .isEmpty();

        PlateModel dead = plate(60).cycles(30).freeze(900);
        long from = dead.now();
        List<Reading> frozen = changed(dead.rest(3 * 3600, Phase.IDLE).readings, PLATE, from, celsius -> -13);
        assertThat(watch(frozen).of(Condition.SENSOR_IMPLAUSIBLE)).isNotEmpty();
    }

    /** A slab that was half frozen when the power went warms for hours in a closed cabinet, but it does warm. */
    @Test
    void plate_warmingSlowlyAtRest_isNoSensor() {
        PlateModel plate = plate(60).cycles(30).freeze(900);
        long from = plate.now();
        List<Reading> rest = plate.rest(3 * 3600, Phase.OFF).readings;

        assertThat(watch(ofPlate(rest, from, hours -> -14 + 6 * hours)).of(Condition.SENSOR_IMPLAUSIBLE))
                .isEmpty();
        assertThat(watch(ofPlate(rest, from, hours -> -6)).of(Condition.SENSOR_IMPLAUSIBLE))
                .isNotEmpty();
    }

    private static List<Reading> ofPlate(List<Reading> readings, long from, DoubleUnaryOperator byHours) {
        return ofPlate(readings, from, byHours, Long.MAX_VALUE);
    }

    private static List<Reading> ofPlate(List<Reading> readings, long from, DoubleUnaryOperator byHours, long to) {
        return readings.stream()
                .map(r -> r.channel() == PLATE && r.timeMillis() >= from && r.timeMillis() < to
                        ? Reading.number(
                                r.machine(),
                                PLATE,
                                r.timeMillis(),
                                byHours.applyAsDouble((r.timeMillis() - from) / 3_600_000.0))
                        : r)
                .toList();
    }

    /** An open input that a gateway leaves out: the machine goes on by the clock, and the other temperature shows it. */
    @Test
    void sensor_thatSendsNothingWhileTheMachineRuns_isFoundAndClearedWhenItSpeaksAgain() {
        for (Channel channel : List.of(PLATE, CONDENSER)) {
            PlateModel plate = plate(60).cycles(30).rest(3600, Phase.IDLE);
            long from = plate.now();
            long to = plate.cycles(8).now();
            List<Reading> heard = plate.cycles(8).readings.stream()
                    .filter(r -> r.channel() != channel || r.timeMillis() < from || r.timeMillis() >= to)
                    .toList();

            Scene scene =
                    new Scene(PlateModel.MACHINE).stoppingAfterEveryRecord().readings(heard);

            List<Finding> found = scene.of(Condition.SENSOR_IMPLAUSIBLE);
            assertThat(found).as(channel.code()).extracting(Finding::step).containsExactly(Step.RAISED, Step.CLEARED);
            assertThat(hours(found.get(0), from)).as(channel.code()).isBetween(0.4, 2.6);
            assertThat(found.get(0).summary()).contains("has sent nothing for");
            assertThat(found.get(0).probableCause().orElseThrow().cause())
                    .isEqualTo(channel == PLATE ? Cause.EVAPORATOR_SENSOR_FAILED : Cause.CONDENSER_SENSOR_FAILED);
        }
    }

    /** Channels that are told when they change say nothing at rest. */
    @Test
    void sensor_thatSendsNothingAtRest_isNoFinding() {
        PlateModel plate = plate(60).cycles(30).rest(3600, Phase.IDLE);
        long from = plate.now();
        long to = plate.rest(6 * 3600, Phase.IDLE).now();
        List<Reading> heard = plate.cycles(8).readings.stream()
                .filter(r -> r.channel() != PLATE || r.timeMillis() < from || r.timeMillis() >= to)
                .toList();

        assertThat(watch(heard).of(Condition.SENSOR_IMPLAUSIBLE)).isEmpty();
    }

    /** The one that is heard first after a break is no witness against the other. */
    @Test
    void sensor_heardASecondLaterAfterABreakOfBoth_isNoFinding() {
        PlateModel plate = plate(60).cycles(30).rest(1800, Phase.CLEAN);
        plate.silent(true).rest(3 * 3600, Phase.CLEAN).silent(false);
        long heardAgain = plate.now();
        List<Reading> plateFirst = plate.cycles(8).readings.stream()
                .map(r -> r.channel() == CONDENSER && r.timeMillis() >= heardAgain
                        ? Reading.number(r.machine(), CONDENSER, r.timeMillis() + 1_000, r.value())
                        : r)
                .sorted(Comparator.comparingLong(Reading::timeMillis))
                .toList();

        assertThat(watch(plateFirst).of(Condition.SENSOR_IMPLAUSIBLE)).isEmpty();
    }

    /** A plate that thaws at rest moves as much as one that is cooled, but upwards. */
    @Test
    void condenser_stillWhileAFrozenPlateThaws_isNoSensor() {
        PlateModel plate = plate(60).cycles(30).freeze(900);
        long from = plate.now();
        List<Reading> rest = plate.rest(4 * 3600, Phase.OFF).readings;

        assertThat(watch(ofPlate(rest, from, hours -> Math.min(15, -16 + 9 * hours)))
                        .of(Condition.SENSOR_IMPLAUSIBLE))
                .isEmpty();
    }

    /** A tenth of a kelvin a day is learned by nothing that follows as seasons go. */
    @Test
    void condenser_driftingForWeeks_isFound() {
        PlateModel plate = plate(60);
        List<Long> days = new ArrayList<>();
        for (int day = 0; day < 50; day++) {
            days.add(plate.now());
            for (int i = 0; i < 3; i++) {
                plate.cycles(8).rest(4300, Phase.IDLE);
            }
        }
        List<Reading> readings = plate.readings;
        for (long from : days.subList(6, 50)) {
            readings = changed(readings, CONDENSER, from, celsius -> celsius - 0.1);
        }

        List<Finding> found = watch(readings).of(Condition.SENSOR_IMPLAUSIBLE);
        assertThat(found).isNotEmpty();
        assertThat(found.get(0).summary()).containsPattern("3\\.[0-9] K less");
    }

    /** Ambient sensors are up to 2 K off by their place [common practice]: that is no change. */
    @Test
    void condenser_constantBiasOfTheAmbientSensor_isNoFinding() {
        PlateModel plate = plate(60);
        for (int day = 0; day < 12; day++) {
            plate.cycles(30).rest(2 * 3600, Phase.IDLE);
        }

        assertThat(watch(changed(plate.readings, Channel.AMBIENT_TEMPERATURE, 0, celsius -> celsius - 2)).findings)
                .isEmpty();
    }

    @Test
    void condenser_restsTooShortToCool_areNotJudged() {
        PlateModel plate = plate(60);
        for (int i = 0; i < 60; i++) {
            plate.cycles(4).rest(1500, Phase.IDLE);
        }

        assertThat(watch(plate.readings).of(Condition.SENSOR_IMPLAUSIBLE)).isEmpty();
    }
}
