package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Ground;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** A condenser at its limit, in rooms that are and are not to blame. Limits are those of a machine that states none. */
class HotRoomTest {
    private static final double BEYOND_LIMIT = 70;

    private final PlateModel plate = new PlateModel(60, 0.2, true, true, false, 1);

    private Finding condenserAtItsLimit(double roomCelsius) {
        plate.cycles(60);
        plate.ambientCelsius = roomCelsius;
        plate.cycles(8);
        long from = plate.now();
        List<Reading> readings = plate.cycles(3).readings.stream()
                .map(r -> r.channel() == Channel.CONDENSER_TEMPERATURE && r.timeMillis() >= from
                        ? Reading.number(r.machine(), r.channel(), r.timeMillis(), BEYOND_LIMIT)
                        : r)
                .toList();
        List<Finding> found =
                new Scene(PlateModel.MACHINE).readings(readings).of(Condition.HIGH_CONDENSING_TEMPERATURE);
        assertThat(found).isNotEmpty();
        return found.get(0);
    }

    private static Cause first(Finding finding) {
        return finding.causes().get(0).cause();
    }

    @Test
    void limitThatWasReached_isNamedWithWhoseItIs() {
        assertThat(condenserAtItsLimit(44).grounds())
                .containsExactly(new Ground("limits.condensing_celsius", 65, "Cel", Ground.Source.STANDARD));
    }

    @Test
    void roomHotterThanTheMachineIsMadeFor_isTheCause() {
        assertThat(first(condenserAtItsLimit(44))).isEqualTo(Cause.ROOM_TOO_HOT);
    }

    @Test
    void roomColderThanTheMachineIsMadeFor_isNot() {
        Finding found = condenserAtItsLimit(5);
        assertThat(first(found)).isEqualTo(Cause.FAN_FAILED);
        assertThat(found.causes()).extracting(Finding.ProbableCause::cause).doesNotContain(Cause.ROOM_TOO_HOT);
    }

    @Test
    void roomAsItShouldBe_isNot() {
        assertThat(first(condenserAtItsLimit(25))).isEqualTo(Cause.FAN_FAILED);
    }

    /** Two machines of one room through fifteen days; from the tenth on the air at the first is so much warmer. */
    private static Scene twoMachines(double inletKelvin, double bothKelvin) {
        PlateModel boxedIn = new PlateModel(60, 0.2, true, true, false, 1);
        PlateModel other = new PlateModel(60, 0.2, true, true, false, 2);
        for (PlateModel plate : List.of(boxedIn, other)) {
            plate.cycles(10 * 60);
            plate.ambientCelsius += bothKelvin;
        }
        boxedIn.inletKelvin = inletKelvin;
        boxedIn.cycles(5 * 60);
        other.cycles(5 * 60);
        List<Reading> both = Stream.concat(boxedIn.readings.stream(), other.readingsOf("ice-2").stream())
                .sorted(Comparator.comparingLong(Reading::timeMillis))
                .toList();
        return new Scene(PlateModel.MACHINE, "ice-2").readings(both);
    }

    /** Its own warm air: the split against its sensor stays as it was, and only the neighbour tells. */
    @Test
    void airWarmerThanTheNeighboursByMoreThanEver_isItsOwn() {
        List<Finding> raised = twoMachines(7, 0).findings.stream()
                .filter(finding -> finding.step() == Finding.Step.RAISED)
                .filter(finding -> !finding.condition().isCare())
                .toList();

        assertThat(raised).hasSize(1);
        assertThat(raised.get(0).condition()).isEqualTo(Condition.RISING_CONDENSING_TEMPERATURE);
        assertThat(raised.get(0).machine()).contains(PlateModel.MACHINE);
        assertThat(first(raised.get(0))).isEqualTo(Cause.HOT_AIR_RECIRCULATING);
    }

    @Test
    void airWarmerAtBothMachinesOfTheRoom_isTheWeather() {
        assertThat(twoMachines(0, 7).findings)
                .filteredOn(finding -> !finding.condition().isCare())
                .isEmpty();
    }

    /** Three weeks in which a condenser gets dustier by the day; on each day the weather of the next week is told. */
    private static Finding dustInWeather(double celsiusAhead, boolean isTold, boolean isStopping) {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 1);
        Scene scene =
                isStopping ? new Scene(PlateModel.MACHINE).stoppingAfterEveryRecord() : new Scene(PlateModel.MACHINE);
        for (int day = 0; day < 21; day++) {
            double outside = 15 + day * 7 % 11;
            plate.ambientCelsius = outside + 4;
            plate.splitKelvin += day >= 9 ? 0.8 : 0;
            LocalDate today = LocalDate.ofInstant(Instant.ofEpochMilli(plate.now()), ZoneOffset.UTC);
            if (isTold) {
                List<SiteRecord.WarmestOfDay> days = Stream.concat(
                                Stream.of(new SiteRecord.WarmestOfDay(today, outside)),
                                IntStream.rangeClosed(1, 7)
                                        .mapToObj(i -> new SiteRecord.WarmestOfDay(today.plusDays(i), celsiusAhead)))
                        .toList();
                scene.take(new SiteRecord.WeatherExpected(Instant.ofEpochMilli(plate.now()), days));
            }
            int before = plate.readings.size();
            long began = plate.now();
            while (plate.now() - began < 86_400_000L) {
                plate.cycles(1);
            }
            scene.readings(plate.readings.subList(before, plate.readings.size()));
        }
        List<Finding> found = scene.of(Condition.RISING_CONDENSING_TEMPERATURE);
        return found.get(found.size() - 1);
    }

    @Test
    void dateOfTheLimit_goesByTheWeatherThatIsTold() {
        Finding untold = dustInWeather(0, false, false);
        Finding warm = dustInWeather(36, true, false);
        Finding cold = dustInWeather(12, true, false);

        assertThat(untold.summary()).contains("as warm as the warmest of the last two weeks");
        assertThat(warm.summary()).contains("the weather that is expected");
        assertThat(warm.limit().orElseThrow().at())
                .isBefore(untold.limit().orElseThrow().at());
        assertThat(cold.limit().orElseThrow().at())
                .isAfter(untold.limit().orElseThrow().at());
        assertThat(dustInWeather(36, true, true)).isEqualTo(warm);
    }
}
