package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.machine.Site;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Sites that are closed on Sundays. Changes of the clocks are those of the time zone database. */
class ClosedDaysTest {
    private static final long SATURDAY_EVENING =
            Instant.parse("2026-05-16T19:00:00Z").toEpochMilli();
    private static final long MONDAY_NOON =
            Instant.parse("2026-05-18T12:00:00Z").toEpochMilli();

    private ClosedDays days = new ClosedDays();

    private static Site site(String zone, String hours, DayOfWeek... closed) {
        Optional<String[]> parts = hours.isEmpty() ? Optional.empty() : Optional.of(hours.split("-"));
        return new Site(
                Scene.SITE,
                Scene.SITE,
                ZoneId.of(zone),
                parts.map(each -> LocalTime.parse(each[0])),
                parts.map(each -> LocalTime.parse(each[1])),
                Set.of(closed),
                Optional.empty(),
                Optional.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty());
    }

    private static long millis(String utc) {
        return Instant.parse(utc + ":00Z").toEpochMilli();
    }

    /** From the evening before to two hours after the next opening: the first minute, and the first one after the last. */
    @ParameterizedTest
    @CsvSource({
        "UTC, 08:00-18:00, 2026-05-16T18:00, 2026-05-18T10:00",
        "Pacific/Auckland, 08:00-18:00, 2026-05-16T06:00, 2026-05-17T22:00",
        "America/Los_Angeles, 08:00-18:00, 2026-05-17T01:00, 2026-05-18T17:00",
        // The night in which an hour is missing, and the one that has one twice.
        "Europe/Paris, 08:00-18:00, 2026-03-28T17:00, 2026-03-30T08:00",
        "Europe/Paris, 08:00-18:00, 2026-10-24T16:00, 2026-10-26T09:00",
        // Open past midnight: Sunday begins when the night of Saturday is over.
        "UTC, 18:00-02:00, 2026-05-17T02:00, 2026-05-18T20:00",
        // To midnight.
        "UTC, 10:00-00:00, 2026-05-17T00:00, 2026-05-18T12:00",
        // Round the clock.
        "UTC, 00:00-00:00, 2026-05-17T00:00, 2026-05-18T02:00",
        // Hours that are not known.
        "UTC, '', 2026-05-16T18:00, 2026-05-18T12:00"
    })
    void closed_fromTheEveningBefore_untilTwoHoursAfterOpening(String zone, String hours, String from, String to) {
        days.of(site(zone, hours, DayOfWeek.SUNDAY));
        long first = millis(from);
        long end = millis(to);

        assertThat(days.isClosedAt(first - 60_000)).as("before").isFalse();
        for (long at = first; at < end; at += 60_000) {
            assertThat(days.isClosedAt(at)).as("%s", Instant.ofEpochMilli(at)).isTrue();
        }
        for (long at = end; at < first + 7 * 86_400_000L - 2 * 3_600_000L; at += 60_000) {
            assertThat(days.isClosedAt(at)).as("%s", Instant.ofEpochMilli(at)).isFalse();
        }
    }

    @Test
    void twoDaysOnEnd_areOneTime() {
        days.of(site("UTC", "08:00-18:00", DayOfWeek.SUNDAY, DayOfWeek.MONDAY));
        for (long at = millis("2026-05-16T18:00"); at < millis("2026-05-19T10:00"); at += 60_000) {
            assertThat(days.isClosedAt(at)).isTrue();
        }
        assertThat(days.isClosedAt(millis("2026-05-19T10:00"))).isFalse();
    }

    @Test
    void siteWithoutAny_isNeverClosed() {
        days.of(site("UTC", "08:00-18:00"));
        for (int hour = 0; hour < 168; hour++) {
            assertThat(days.isClosedAt(SATURDAY_EVENING + hour * 3_600_000L)).isFalse();
        }
    }

    @Test
    void savedAndRestored_isTheSame() {
        days.of(site("Pacific/Auckland", "18:30-02:15", DayOfWeek.SUNDAY, DayOfWeek.WEDNESDAY));
        StateWriter out = new StateWriter();
        days.save(out);
        ClosedDays restored = new ClosedDays();
        restored.restore(new StateReader(out.toBytes()));
        int closed = 0;
        for (int quarter = 0; quarter < 4 * 168; quarter++) {
            long at = SATURDAY_EVENING + quarter * 900_000L;
            assertThat(restored.isClosedAt(at)).isEqualTo(days.isClosedAt(at));
            closed += days.isClosedAt(at) ? 1 : 0;
        }
        assertThat(closed).isBetween(4 * 60, 4 * 96);
    }

    /** Two weeks with a full bin each night; from Saturday evening on it is off. */
    private static PlateModel offFromSaturdayEvening(long untilMillis) {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 1);
        while (plate.now() < SATURDAY_EVENING) {
            int hour = Instant.ofEpochMilli(plate.now()).atZone(ZoneOffset.UTC).getHour();
            if (hour < 6) {
                plate.rest(1800, Phase.IDLE);
            } else {
                plate.cycles(1);
            }
        }
        return plate.rest((untilMillis - plate.now()) / 1000.0, Phase.OFF);
    }

    private static Scene scene(PlateModel plate, Site site, boolean isStopping) {
        Scene scene = new Scene(PlateModel.MACHINE).take(new SiteRecord.SiteChanged(Instant.EPOCH, site));
        return (isStopping ? scene.stoppingAfterEveryRecord() : scene).readings(plate.readings);
    }

    @Test
    void machineThatIsOffWhileItIsClosed_isNoFinding() {
        PlateModel plate = offFromSaturdayEvening(MONDAY_NOON - 3 * 3_600_000L);

        assertThat(scene(plate, site("UTC", "08:00-18:00", DayOfWeek.SUNDAY), false)
                        .of(Condition.NOT_MAKING_ICE))
                .isEmpty();
        assertThat(scene(plate, site("UTC", "08:00-18:00"), false).of(Condition.NOT_MAKING_ICE))
                .as("open every day")
                .isNotEmpty();
        assertThat(scene(plate, site("UTC", "08:00-18:00", DayOfWeek.MONDAY), false)
                        .of(Condition.NOT_MAKING_ICE))
                .as("closed on another day")
                .isNotEmpty();
    }

    @Test
    void machineThatIsStillOffAfterOpening_isOne_restartsOrNot() {
        PlateModel plate = offFromSaturdayEvening(MONDAY_NOON);
        Site site = site("UTC", "08:00-18:00", DayOfWeek.SUNDAY);

        Scene scene = scene(plate, site, false);

        assertThat(scene.of(Condition.NOT_MAKING_ICE)).hasSize(1);
        Finding found = scene.of(Condition.NOT_MAKING_ICE).get(0);
        // Open for two hours, and told within the hour.
        assertThat(found.at()).isBetween(Instant.parse("2026-05-18T10:00:00Z"), Instant.parse("2026-05-18T11:05:00Z"));
        assertThat(scene(plate, site, true).findings).isEqualTo(scene.findings);
    }

    /** What layout 7 has of water sensors where none was heard, and layout 6 of closed days, stand at the end. */
    private static int sinceLayoutFive() {
        StateWriter out = new StateWriter();
        for (int day = 0; day < 4; day++) {
            out.u8(0);
        }
        out.real(Double.NaN).whole(0);
        new MeasuredWater().save(out);
        new ClosedDays().save(out);
        return out.toBytes().length;
    }

    @Test
    void stateOfASiteOfLayoutFive_goesOn_withoutClosedDays() {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 1).cycles(5);
        Scene scene = new Scene(PlateModel.MACHINE).readings(plate.readings);
        scene.restart();
        Map<String, byte[]> before = new HashMap<>(scene.states);
        String key = before.keySet().stream()
                .filter(each -> Objects.requireNonNull(before.get(each))[0] == 'S')
                .findFirst()
                .orElseThrow();
        byte[] now = Objects.requireNonNull(before.get(key));
        assertThat(now[1]).isEqualTo((byte) 7);
        byte[] five = Arrays.copyOf(now, now.length - sinceLayoutFive());
        five[1] = 5;
        before.put(key, five);

        Scene restored = new Scene().goesOnFrom(before).ticks(1);
        restored.restart();

        assertThat(Objects.requireNonNull(restored.states.get(key))[1]).isEqualTo((byte) 7);
    }
}
