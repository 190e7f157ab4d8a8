package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** A machine with its two temperatures and at most the channel of its bin: no sensors of air and water, no phase. */
class BareChannelsTest {
    private static final double HOUR = 3600;
    private static final int CYCLES_A_DAY = 36;

    private static PlateModel bare(long seed) {
        PlateModel plate = new PlateModel(60, 0.2, true, false, false, seed);
        plate.hasAmbientSensor = false;
        plate.ambientCelsius = 22;
        return plate;
    }

    private static Scene watch(PlateModel plate) {
        return new Scene(PlateModel.MACHINE).readings(plate.readings);
    }

    /** Days with two rests; over noon the room is warmer by up to {@code noonKelvin}, without a rest in between. */
    private static void days(PlateModel plate, int days, double noonKelvin) {
        for (int day = 0; day < days; day++) {
            plate.rest(2 * HOUR, Phase.IDLE);
            for (int i = 0; i < CYCLES_A_DAY / 2; i++) {
                plate.ambientCelsius = 22 + noonKelvin * Math.sin(Math.PI * i / (CYCLES_A_DAY / 2));
                plate.cycles(1);
            }
            plate.ambientCelsius = 22;
            plate.rest(2 * HOUR, Phase.IDLE).cycles(CYCLES_A_DAY / 2);
        }
    }

    private static double hours(Finding finding, long since) {
        return (finding.at().toEpochMilli() - since) / 3_600_000.0;
    }

    /** What an engineer found is worth more than an expectation by a season that nobody has measured. */
    @Test
    void visitThatFindsNothing_endsASmallChange_andAGreaterOneIsFoundAgain() {
        PlateModel plate = bare(5);
        days(plate, 20, 0);
        plate.freezeSeconds *= 1.25;
        days(plate, 12, 0);
        List<Reading> before = List.copyOf(plate.readings);
        Instant visit = Instant.ofEpochMilli(plate.now());
        days(plate, 25, 0);
        int same = plate.readings.size();
        plate.freezeSeconds *= 1.4;
        days(plate, 12, 0);

        Scene scene = new Scene(PlateModel.MACHINE).readings(before);
        assertThat(scene.of(Condition.LONG_FREEZE)).extracting(Finding::step).containsOnlyOnce(Step.RAISED);
        assertThat(scene.of(Condition.LONG_FREEZE)).extracting(Finding::step).doesNotContain(Step.CLEARED);

        scene.take(new SiteRecord.Happened(
                visit, Optional.of(PlateModel.MACHINE), EventKind.VISIT, "nothing-found", "engineer", ""));
        Finding ended = last(scene);
        assertThat(ended.step()).isEqualTo(Step.CLEARED);
        assertThat(ended.summary()).contains("found nothing");
        scene.readings(plate.readings.subList(before.size(), same));
        assertThat(last(scene)).isEqualTo(ended);

        scene.readings(plate.readings.subList(same, plate.readings.size()));
        assertThat(last(scene).step()).isNotEqualTo(Step.CLEARED);
    }

    private static Finding last(Scene scene) {
        List<Finding> found = scene.of(Condition.LONG_FREEZE);
        return found.get(found.size() - 1);
    }

    @Test
    void kitchenThatIsHotEveryNoon_isFollowed_andNoFinding() {
        PlateModel plate = bare(1);
        days(plate, 10, 0);
        days(plate, 20, 9);
        Scene scene = watch(plate);

        assertThat(scene.findings).isEmpty();
        List<Double> rooms = scene.cycles.stream()
                .filter(cycle -> cycle.ambientCelsius().isPresent())
                .map(cycle -> cycle.ambientCelsius().getAsDouble())
                .toList();
        List<Double> ofLastDay = rooms.subList(rooms.size() - CYCLES_A_DAY, rooms.size());
        assertThat(ofLastDay.stream().mapToDouble(x -> x).max().orElseThrow()).isBetween(29.0, 32.5);
        assertThat(ofLastDay.stream().mapToDouble(x -> x).min().orElseThrow()).isBetween(20.5, 23.5);
    }

    /** In a hot fortnight the bin is never full. */
    @Test
    void fortnightWithoutARest_isFollowed_andNoFinding() {
        PlateModel plate = bare(9);
        days(plate, 10, 4);
        for (int i = 0; i < 14 * 2 * CYCLES_A_DAY; i++) {
            plate.ambientCelsius = 28 + 4 * Math.sin(2 * Math.PI * i / 60);
            plate.cycles(1);
        }
        Scene scene = watch(plate);

        assertThat(scene.findings).isEmpty();
        double last = scene.cycles.get(scene.cycles.size() - 1).ambientCelsius().orElseThrow();
        assertThat(last).isBetween(plate.ambientCelsius - 2, plate.ambientCelsius + 2);
    }

    @Test
    void condenserThatFouls_isFound_thoughTheRoomIsOnlyEstimated() {
        PlateModel plate = bare(2);
        days(plate, 20, 6);
        long began = plate.now();
        for (int day = 0; day < 25; day++) {
            plate.splitKelvin += 0.3;
            days(plate, 1, 6);
        }
        Scene scene = watch(plate);

        List<Finding> found = scene.of(Condition.RISING_CONDENSING_TEMPERATURE);
        assertThat(found).isNotEmpty();
        assertThat(hours(found.get(0), began) / 24).isBetween(4.0, 18.0);
        assertThat(scene.findings)
                .filteredOn(finding -> !finding.condition().isCare())
                .extracting(Finding::condition)
                .containsOnly(Condition.RISING_CONDENSING_TEMPERATURE);
        double room = scene.cycles.subList(scene.cycles.size() - CYCLES_A_DAY, scene.cycles.size()).stream()
                .mapToDouble(cycle -> cycle.ambientCelsius().orElseThrow())
                .average()
                .orElseThrow();
        assertThat(room)
                .as("the fouled condenser, 7.5 K warmer, is no warm room: 23.9 °C in the mean of the day")
                .isBetween(22.9, 25.4);
    }

    /** No room warms up by 12 K from one cycle to the next. */
    @Test
    void condensingTemperatureThatLeaps_isFoundWithinFourCycles_withoutARest() {
        PlateModel plate = bare(3);
        days(plate, 20, 3);
        plate.rest(2 * HOUR, Phase.IDLE).cycles(8);
        long began = plate.now();
        plate.splitKelvin += 12;
        Scene scene = watch(plate.cycles(6));

        List<Finding> found = scene.of(Condition.RISING_CONDENSING_TEMPERATURE);
        assertThat(found).isNotEmpty();
        long cycles = scene.cycles.stream()
                .map(Cycle::end)
                .filter(end ->
                        end.toEpochMilli() > began && !end.isAfter(found.get(0).at()))
                .count();
        assertThat(cycles).isLessThanOrEqualTo(4);
    }

    /** The condenser of a resting machine is at the temperature of the room [common practice]. */
    @Test
    void roomThatIsFarTooCold_isSeenByTheCondenserAtRest() {
        PlateModel plate = bare(4);
        days(plate, 10, 0);
        plate.ambientCelsius = 6;
        Scene scene = watch(plate.rest(4 * HOUR, Phase.IDLE));

        assertThat(scene.of(Condition.AMBIENT_OUT_OF_RANGE)).hasSize(1);
        assertThat(scene.of(Condition.AMBIENT_OUT_OF_RANGE)
                        .get(0)
                        .probableCause()
                        .orElseThrow()
                        .cause())
                .isEqualTo(Cause.ROOM_TOO_COLD);
    }

    private static PlateModel withBin(int days, Phase atNight, long seed) {
        PlateModel plate = bare(seed);
        plate.sendsBin = true;
        for (int day = 0; day < days; day++) {
            plate.cycles(20).rest(HOUR, Phase.IDLE).cycles(16).rest(7 * HOUR, atNight);
        }
        return plate.cycles(10);
    }

    @Test
    void binThatFallsSilentWhileTheProbesGoOn_isPowerThatIsOff() {
        PlateModel plate = withBin(14, Phase.IDLE, 5);
        long began = plate.now();
        Scene scene = watch(plate.rest(20 * HOUR, Phase.OFF));

        assertThat(scene.findings).extracting(Finding::condition).containsExactly(Condition.NOT_MAKING_ICE);
        assertThat(hours(scene.findings.get(0), began)).isBetween(8.0, 9.0);
        assertThat(scene.findings.get(0).probableCause().orElseThrow().cause()).isEqualTo(Cause.POWER_OFF);
    }

    @Test
    void calledForWithPower_andNotRunning_isFoundWithinHours() {
        PlateModel plate = withBin(14, Phase.IDLE, 6);
        long began = plate.now();
        Scene scene = watch(plate.rest(6 * HOUR, Phase.STOPPED));

        assertThat(scene.findings).extracting(Finding::condition).containsExactly(Condition.NOT_MAKING_ICE);
        assertThat(hours(scene.findings.get(0), began)).isBetween(2.5, 3.2);
        assertThat(scene.findings.get(0).probableCause().orElseThrow().cause())
                .isEqualTo(Cause.COMPRESSOR_NOT_STARTING);
    }

    /** Some controllers go on sending that the bin is not full when the machine is switched off. */
    @Test
    void calledForThroughEveryNight_isAHabit() {
        assertThat(watch(withBin(16, Phase.STOPPED, 7)).findings).isEmpty();
    }

    @Test
    void stopAfterADrainOverrun_hasTheCausesOfTheOverrun() {
        PlateModel plate = bare(8);
        plate.sendsBin = true;
        for (int day = 0; day < 14; day++) {
            drained(plate, 36, 1.5);
            plate.rest(7 * HOUR, Phase.IDLE);
        }
        drained(plate, 3, 1.5);
        drained(plate, 3, 40);
        Scene scene = watch(plate.rest(8 * HOUR, Phase.STOPPED));

        List<Finding> stopped = scene.of(Condition.NOT_MAKING_ICE);
        assertThat(stopped).hasSize(1);
        List<Finding> drain = scene.of(Condition.DRAIN_PUMP_OVERRUN).stream()
                .filter(finding -> finding.at().isBefore(stopped.get(0).at()))
                .toList();
        assertThat(drain).isNotEmpty();
        Finding.ProbableCause last = drain.get(drain.size() - 1).probableCause().orElseThrow();
        Finding.ProbableCause first = stopped.get(0).probableCause().orElseThrow();
        assertThat(first.cause()).isEqualTo(last.cause());
        assertThat(first.probability()).isLessThan(last.probability());
        assertThat(first.evidenceFor()).contains("Shortly before: drain pump overrun.");
        assertThat(stopped.get(0).causes())
                .extracting(Finding.ProbableCause::cause)
                .contains(Cause.COMPRESSOR_NOT_STARTING);
    }

    /** It may have run while nobody heard it. */
    @Test
    void calledForBeforeAndAfterAGap_isCountedFromTheGap() {
        PlateModel plate = withBin(14, Phase.IDLE, 10);
        plate.rest(HOUR, Phase.STOPPED)
                .silent(true)
                .rest(3 * HOUR, Phase.STOPPED)
                .silent(false);
        long heardAgain = plate.now();
        Scene scene = watch(plate.rest(4 * HOUR, Phase.STOPPED));

        assertThat(scene.of(Condition.NOT_MAKING_ICE)).hasSize(1);
        assertThat(hours(scene.of(Condition.NOT_MAKING_ICE).get(0), heardAgain)).isBetween(2.4, 2.7);
    }

    /** Outdoors a condenser at rest shows the weather. */
    @Test
    void remoteCondenserInTheCold_saysNothingOfTheRoom() {
        PlateModel plate = bare(11);
        days(plate, 10, 0);
        plate.ambientCelsius = 6;
        plate.rest(4 * HOUR, Phase.IDLE);
        Machine remote = Machine.basic(PlateModel.MACHINE, Scene.SITE, Scene.GATEWAY)
                .withBuild(new Machine.Build(Optional.empty(), Optional.empty(), Optional.of(Machine.Cooling.REMOTE)));
        Scene scene = new Scene().take(new SiteRecord.Registered(Instant.EPOCH, remote));

        assertThat(scene.readings(plate.readings).of(Condition.AMBIENT_OUT_OF_RANGE))
                .isEmpty();
    }

    @Test
    void savedAndRestoredAfterEveryRecord_decidesTheSame() {
        PlateModel plate = bare(12);
        plate.sendsBin = true;
        days(plate, 14, 5);
        plate.splitKelvin += 12;
        plate.cycles(8).rest(6 * HOUR, Phase.STOPPED).cycles(3).rest(12 * HOUR, Phase.OFF);
        Scene plain = watch(plate);

        Scene stopping =
                new Scene(PlateModel.MACHINE).stoppingAfterEveryRecord().readings(plate.readings);

        assertThat(plain.findings)
                .extracting(Finding::condition)
                .contains(Condition.RISING_CONDENSING_TEMPERATURE, Condition.NOT_MAKING_ICE);
        assertThat(stopping.findings).isEqualTo(plain.findings);
        assertThat(stopping.cycles).isEqualTo(plain.cycles);
        assertThat(stopping.largestState()).isLessThanOrEqualTo(4096);
    }

    private static void drained(PlateModel plate, int cycles, double seconds) {
        for (int i = 0; i < cycles; i++) {
            plate.cycles(1);
            plate.readings.add(Reading.number(PlateModel.MACHINE, Channel.DRAIN_LEVEL_TIME, plate.now(), seconds));
        }
    }
}
