package dev.rimecast.telemetry.log;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.reading.Reading;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Stream;

/** One record of every kind, with everything in it that can be in it. */
final class SiteRecords {
    static final Instant AT = Instant.parse("2026-05-04T00:00:12.010Z");

    static final Machine WHOLE_ROW = new Machine(
            "ice-0007",
            "harbour",
            "gw-1",
            Optional.of("cellar"),
            Optional.of("cube-60"),
            Optional.of("SN 12"),
            Machine.Kind.CONTINUOUS,
            Machine.Cooling.REMOTE,
            60.5,
            24,
            Optional.of("R290"),
            Optional.of(Machine.EndsBy.TEMPERATURE),
            Optional.of(Machine.EndsBy.THICKNESS),
            Optional.of(Machine.EndsBy.LEVEL),
            Machine.ProbeAt.OUTLET,
            new Machine.Limits(
                    OptionalDouble.of(62), OptionalDouble.of(900), OptionalDouble.of(6), OptionalDouble.of(1.5)),
            Machine.DrainKind.PUMP,
            240,
            new Machine.PlaceLimits(8, 38, 4, 30),
            new Machine.CareIntervals(
                    OptionalInt.of(180), OptionalInt.of(30), OptionalInt.of(365), OptionalInt.of(400)),
            Optional.of(LocalDate.of(2024, 3, 1)),
            Optional.of(LocalDate.of(2025, 3, 1)),
            Optional.of(LocalDate.of(2027, 3, 1)),
            Machine.Build.NOT_SAID);

    static final Site WHOLE_SITE = new Site(
            "harbour",
            "Caf\u00e9 at the harbour",
            ZoneId.of("Europe/Lisbon"),
            Optional.of(LocalTime.of(9, 30)),
            Optional.of(LocalTime.of(23, 0)),
            Set.of(DayOfWeek.MONDAY, DayOfWeek.SUNDAY),
            Optional.of("bar@harbour.example"),
            Optional.of("pt"),
            OptionalDouble.of(85),
            OptionalDouble.of(24));

    static final SiteRecord.Pack PACK = new SiteRecord.Pack(
            "gw-1",
            Optional.of(new PackNumber("b1", 300)),
            AT,
            List.of(
                    Reading.number("ice-0007", Channel.EVAPORATOR_TEMPERATURE, 1_777_800_000_000L, -6.4),
                    Reading.number("ice-0007", Channel.CONDENSER_TEMPERATURE, 1_777_800_000_000L, 41),
                    Reading.number("ice-0007", Channel.SUPPLY_CURRENT, 1_777_800_000_000L, 1.0 / 3),
                    Reading.phase("ice-0007", 1_777_800_000_000L, Phase.FREEZE),
                    Reading.number("ice-0008", Channel.WATER_VOLUME, 1_777_800_000_250L, 0.125),
                    Reading.flag("ice-0008", Channel.BIN_FULL, 1_777_799_999_000L, true),
                    Reading.text("ice-0008", Channel.CONTROLLER_STATUS, 1_777_800_000_000L, "E4 \u00fc")),
            2);

    private SiteRecords() {}

    static Stream<SiteRecord> all() {
        return Stream.of(
                PACK,
                new SiteRecord.Registered(AT, WHOLE_ROW),
                new SiteRecord.Registered(AT, Machine.basic("ice-0008", "harbour", "gw-1")),
                new SiteRecord.Unregistered(AT, "ice-0007"),
                new SiteRecord.SiteChanged(AT, WHOLE_SITE),
                new SiteRecord.SiteChanged(AT, Site.basic("harbour")),
                new SiteRecord.PolicyActivated(AT, "2026-05-a", "defaults:\n  pull_down_limit_s: 900\n"),
                new SiteRecord.Happened(AT, Optional.of("ice-0007"), EventKind.VISIT, "scale", "j.doe", "4711"),
                new SiteRecord.Happened(AT, Optional.empty(), EventKind.SITE_ANSWER, "", "", ""),
                new SiteRecord.Presence(AT, "gw-1", true),
                new SiteRecord.Tick(Instant.parse("2026-05-04T00:01:00Z")),
                new SiteRecord.WeatherExpected(
                        AT,
                        List.of(
                                new SiteRecord.WarmestOfDay(LocalDate.of(2026, 7, 1), 34.5),
                                new SiteRecord.WarmestOfDay(LocalDate.of(2026, 7, 2), -3.25))));
    }
}
