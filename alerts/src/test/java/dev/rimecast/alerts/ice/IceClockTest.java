package dev.rimecast.alerts.ice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.alerts.ice.DrawProfile.Stretch;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Expected values are worked out by hand beside each check. */
class IceClockTest {
    private static final ZoneId UTC = ZoneId.of("UTC");
    /** A Monday. */
    private static final Instant MONDAY = Instant.parse("2026-05-04T00:00:00Z");

    @Test
    void clock_stoppedMachineAlone_runsOutWhenItsStockIsDrawn() {
        // 20 kg, 48 kg a day = 2 kg/h: out after 10 h; the 24 h after lack 48 kg
        MachineIce alone = new MachineIce(20, 20, 0, 0, 0, DrawProfile.even(UTC, 48, 0));

        IceOutlook.Short out = (IceOutlook.Short) IceClock.run(MONDAY, List.of(alone));

        assertThat(out.likely()).contains(MONDAY.plus(Duration.ofHours(10)));
        assertThat(out.early()).isEqualTo(out.likely().orElseThrow());
        assertThat(out.kgShort()).isCloseTo(48, within(1e-6));
        assertThat(IceClock.runsOut(MONDAY, List.of(alone))).isEqualTo(out.likely());
        assertThat(IceClock.runsOut(MONDAY, List.of(new MachineIce(20, 20, 0, 0, 0, DrawProfile.even(UTC, 1, 0)))))
                .isEmpty();
    }

    @Test
    void clock_outWithinAnHour_countsWhatIsMissingInADayExactly() {
        // 21 kg at 2 kg/h: out at half past ten; to half past ten of the next day 48 kg are missing, to eleven 49
        MachineIce alone = new MachineIce(21, 21, 0, 0, 0, DrawProfile.even(UTC, 48, 0));

        IceOutlook.Short out = (IceOutlook.Short) IceClock.run(MONDAY, List.of(alone));

        assertThat(out.likely()).contains(MONDAY.plus(Duration.ofMinutes(630)));
        assertThat(out.kgShort()).isCloseTo(48, within(1e-6));
    }

    @Test
    void clock_neighbourHasEnoughToSpare_isEnough() {
        MachineIce stopped = new MachineIce(20, 20, 2, 0, 0.15, DrawProfile.even(UTC, 24, 0.2));
        // makes 3 kg/h; both together draw 2 kg/h, 2.4 at the worst, and it still makes 2.55 then
        MachineIce neighbour = new MachineIce(20, 10, 2, 3, 0.15, DrawProfile.even(UTC, 24, 0.2));

        assertThat(IceClock.run(MONDAY, List.of(stopped, neighbour)))
                .isEqualTo(new IceOutlook.Enough(MONDAY.plus(Duration.ofDays(7))));
        assertThat(IceWords.of(IceClock.run(MONDAY, List.of(stopped, neighbour)), UTC))
                .isEqualTo("The site has ice for at least a week.");
    }

    @Test
    void clock_uncertainInputs_spreadTheHour() {
        // expected: 20 / 2 = 10 h; worse: 18 / 2.4 = 7.5 h; better: 22, but no more than the bin's 20, / 1.6 = 12.5 h
        MachineIce alone = new MachineIce(20, 20, 2, 0, 0, DrawProfile.even(UTC, 48, 0.2));

        IceOutlook.Short out = (IceOutlook.Short) IceClock.run(MONDAY, List.of(alone));

        assertThat(Duration.between(MONDAY, out.early()).toMinutes()).isEqualTo(450);
        assertThat(Duration.between(MONDAY, out.likely().orElseThrow()).toMinutes())
                .isEqualTo(600);
        assertThat(Duration.between(MONDAY, out.late().orElseThrow()).toMinutes())
                .isEqualTo(750);
        assertThat(IceWords.of(out, ZoneId.of("Europe/Berlin")))
                .isEqualTo(
                        "The site runs out of ice on Monday 4 May 12:00 (between Monday 4 May 09:30 and Monday 4 May 14:30),"
                                + " 48 kg short in the 24 hours after.");
    }

    @Test
    void clock_onlyIfAllGoesAgainstIt_saysMay() {
        MachineIce tight = new MachineIce(20, 20, 0, 2.1, 0.15, DrawProfile.even(UTC, 48, 0.2));

        IceOutlook.Short out = (IceOutlook.Short) IceClock.run(MONDAY, List.of(tight));

        assertThat(out.likely()).isEmpty();
        assertThat(IceWords.of(out, UTC)).startsWith("The site may run out of ice from");
    }

    @Test
    void learn_openHoursOnly_knowsTheHoursOfTheWeek() {
        // every day: full until 10:00, 3 kg/h leave until 20:00, full from then on
        DrawProfile profile = DrawProfile.learn(UTC, days(MONDAY, 21)).orElseThrow();

        assertThat(profile.kgPerHour().get(9)).isZero();
        assertThat(profile.kgPerHour().get(10)).isCloseTo(3, within(1e-9));
        assertThat(profile.kgPerHour().get(6 * 24 + 19)).isCloseTo(3, within(1e-9));
        assertThat(profile.kgPerHour().get(20)).isZero();
        assertThat(profile.relativeError()).as("three weeks alike").isEqualTo(0.1);
        assertThat(profile.kgBetween(MONDAY, MONDAY.plus(Duration.ofDays(2)))).isCloseTo(60, within(1e-9));
    }

    @Test
    void learn_tooLittle_isEmptyOrUnsure() {
        assertThat(DrawProfile.learn(UTC, days(MONDAY, 4))).isEmpty();
        DrawProfile oneWeek = DrawProfile.learn(UTC, days(MONDAY, 6)).orElseThrow();
        assertThat(oneWeek.relativeError()).isEqualTo(DrawProfile.ERROR_UNTIL_LEARNED);
        assertThat(oneWeek.kgPerHour().get(6 * 24 + 12))
                .as("a Sunday was never seen: as the other days at noon")
                .isCloseTo(3, within(1e-9));
    }

    /** Both changes of the clocks in three zones, one of them of half an hour and in the other half of the year. */
    @ParameterizedTest
    @CsvSource({
        "Europe/Berlin, 2026-03-28T00:00, 2026-03-30T00:00, 47",
        "Europe/Berlin, 2026-10-24T00:00, 2026-10-26T00:00, 49",
        "America/New_York, 2026-03-07T00:00, 2026-03-09T00:00, 47",
        "America/New_York, 2026-10-31T00:00, 2026-11-02T00:00, 49",
        "Australia/Lord_Howe, 2026-10-03T00:00, 2026-10-05T00:00, 47.5",
        "Australia/Lord_Howe, 2026-04-04T00:00, 2026-04-06T00:00, 48.5",
    })
    void draw_overAChangeOfTheClocks_countsEveryHourOnce(String zone, String from, String to, double hours) {
        ZoneId place = ZoneId.of(zone);
        Instant start = LocalDateTime.parse(from).atZone(place).toInstant();
        Instant end = LocalDateTime.parse(to).atZone(place).toInstant();

        assertThat(DrawProfile.hoursBetween(start, end)).isEqualTo(hours);
        assertThat(DrawProfile.even(place, 24, 0).kgBetween(start, end)).isCloseTo(hours, within(1e-9));
        Instant noon = LocalDateTime.parse(to).plusHours(12).atZone(place).toInstant();
        assertThat(DrawProfile.hourOfWeek(noon, place))
                .as("Monday noon on the new time")
                .isEqualTo(12);
        assertThat(DrawProfile.hourOfWeek(noon.minus(72, ChronoUnit.HOURS), place))
                .isBetween(4 * 24 + 11, 4 * 24 + 13);
    }

    @Test
    void bin_batchesSinceItWasFull_giveTheStock() {
        // cycles of 24 min at 60 kg a day: a batch is 1 kg; full until noon, 3 kg/h leave, four batches came in 4 h
        Instant noon = MONDAY.plus(Duration.ofHours(12));
        List<Instant> batches = new ArrayList<>();
        for (int i = 1; i <= 4; i++) {
            batches.add(noon.plus(Duration.ofMinutes(55L * i)));
        }
        BinRecord record = new BinRecord(
                60,
                20,
                List.of(new BinRecord.Full(MONDAY, Optional.of(noon))),
                batches,
                List.of(Duration.ofMinutes(24), Duration.ofMinutes(24), Duration.ofMinutes(24)));
        DrawProfile draw = DrawProfile.even(UTC, 72, 0.2);

        MachineIce now = record.now(noon.plus(Duration.ofHours(4)), draw, true).orElseThrow();

        assertThat(now.stockKg()).isCloseTo(20 - 12 + 4, within(1e-9));
        assertThat(now.kgPerHour()).isCloseTo(2.5, within(1e-9));
        // 10 % of the bin, 15 % of 4 kg, 20 % of 12 kg: sqrt(4 + 0.36 + 5.76)
        assertThat(now.stockErrorKg()).isCloseTo(Math.sqrt(10.12), within(1e-9));
        assertThat(record.now(noon, draw, false).orElseThrow().kgPerHour()).isZero();
        assertThat(new BinRecord(60, 20, List.of(), batches, List.of()).now(noon, draw, true))
                .as("never full: not known")
                .isEmpty();
    }

    /** It fell silent with a full bin at noon: 3 kg/h have left since, whoever can't say so. */
    @Test
    void bin_fullWhenTheMachineFellSilent_countsDownFromThen() {
        Instant noon = MONDAY.plus(Duration.ofHours(12));
        BinRecord full = new BinRecord(
                60,
                20,
                List.of(new BinRecord.Full(MONDAY, Optional.empty())),
                List.of(),
                List.of(Duration.ofMinutes(24)));
        DrawProfile draw = DrawProfile.even(UTC, 72, 0.2);

        assertThat(full.heardUntil(noon)
                        .now(noon.plus(Duration.ofHours(4)), draw, false)
                        .orElseThrow()
                        .stockKg())
                .isCloseTo(20 - 12, within(1e-9));
        assertThat(full.heardUntil(noon).now(noon, draw, true).orElseThrow().stockKg())
                .as("heard just now")
                .isEqualTo(20);
        assertThat(full.heardUntil(MONDAY.minusSeconds(1)).fulls())
                .containsExactly(new BinRecord.Full(MONDAY, Optional.of(MONDAY)));
    }

    /** A machine whose draw is as large as its output never fills its bin: all that it makes is taken. */
    @Test
    void bin_neverFull_givesWhatItMakesAndHalfABin() {
        // a batch of 1 kg every 40 min for four days: 36 kg a day
        List<Instant> batches = new ArrayList<>();
        for (int i = 0; i <= 4 * 36; i++) {
            batches.add(MONDAY.plus(Duration.ofMinutes(40L * i)));
        }
        Instant last = batches.get(batches.size() - 1);
        BinRecord record =
                new BinRecord(60, 20, List.of(), batches, List.of(Duration.ofMinutes(24), Duration.ofMinutes(24)));

        DrawProfile draw = record.drawOfAllMade(UTC).orElseThrow();
        assertThat(draw.kgBetween(MONDAY, MONDAY.plus(Duration.ofDays(1)))).isCloseTo(36, within(1e-9));
        MachineIce running = record.halfKnown(last.plusSeconds(600), draw, true).orElseThrow();
        assertThat(running.stockKg()).isEqualTo(10);
        // standard deviation of the uniform distribution from 0 to 20: 20 / sqrt(12)
        assertThat(running.stockErrorKg()).isCloseTo(5.7735, within(1e-4));
        // stopped 4 h ago: 1.5 kg/h have left
        MachineIce stopped =
                record.halfKnown(last.plus(Duration.ofHours(4)), draw, false).orElseThrow();
        assertThat(stopped.stockKg()).isCloseTo(4, within(1e-9));
        assertThat(stopped.kgPerHour()).isZero();
        BinRecord young = new BinRecord(60, 20, List.of(), batches.subList(0, 50), List.of(Duration.ofMinutes(24)));
        assertThat(young.drawOfAllMade(UTC)).as("33 h are no habit").isEmpty();
        assertThat(new BinRecord(60, 20, List.of(), List.of(), List.of()).halfKnown(last, draw, true))
                .isEmpty();
    }

    @Test
    void bin_slowerCycles_makeLess() {
        List<Duration> cycles = new ArrayList<>();
        for (int i = 0; i < 90; i++) {
            cycles.add(Duration.ofMinutes(24));
        }
        for (int i = 0; i < 10; i++) {
            cycles.add(Duration.ofMinutes(48));
        }
        BinRecord record =
                new BinRecord(60, 20, List.of(new BinRecord.Full(MONDAY, Optional.empty())), List.of(), cycles);

        // half as fast as usual: 1.25 instead of 2.5 kg/h
        assertThat(record.now(MONDAY, DrawProfile.even(UTC, 24, 0), true)
                        .orElseThrow()
                        .kgPerHour())
                .isCloseTo(1.25, within(1e-9));
    }

    private static List<Stretch> days(Instant monday, int days) {
        List<Stretch> stretches = new ArrayList<>();
        for (int day = 0; day < days; day++) {
            Instant start = monday.plus(Duration.ofDays(day));
            Instant open = start.plus(Duration.ofHours(10));
            Instant close = start.plus(Duration.ofHours(20));
            stretches.add(new Stretch(start, open, 0));
            stretches.add(new Stretch(open, close, 30));
            stretches.add(new Stretch(close, start.plus(Duration.ofHours(24)), 0));
        }
        return stretches;
    }
}
