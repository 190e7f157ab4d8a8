package dev.rimecast.alerts.work;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Cause.Origin;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What a report may say, and what it says to the site's log. */
class WorkRulesTest {
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:00Z");
    private static final Found FAN = new Found.ACause(Cause.FAN_WEAK);

    private static WorkReport report(Instant at, Found found, Optional<Origin> origin, Done... done) {
        return new WorkReport(
                UUID.fromString("00000000-0000-4000-8000-000000000001"),
                at,
                found,
                origin,
                List.of(done),
                Optional.of(Charge.WARRANTY),
                "J-1",
                "",
                "Pim",
                "",
                Optional.empty(),
                Optional.empty());
    }

    private static WorkReport report(Done... done) {
        return report(NOW, FAN, Optional.of(Origin.WEAR), done);
    }

    private static String wrong(WorkReport report) {
        return WorkRules.wrong(report, NOW)
                .map(wrong -> wrong.member() + ' ' + wrong.reason())
                .orElse("");
    }

    private static Done gas(Deed deed, String refrigerant, int grams) {
        return new Done(deed, refrigerant, Optional.of(grams));
    }

    @Test
    void report_withEverything_isTaken() {
        assertThat(wrong(report(
                        Done.of(Deed.CLEANED),
                        Done.of(Deed.PART_REPLACED, "fan motor"),
                        Done.of(Deed.PART_REPLACED, "run capacitor"),
                        Done.of(Deed.SENSOR_REPLACED, "condenser"),
                        Done.of(Deed.ADJUSTED),
                        gas(Deed.REFRIGERANT_RECOVERED, "R404A", 380),
                        gas(Deed.REFRIGERANT_ADDED, "R404A", 400))))
                .isEmpty();
        assertThat(wrong(report(NOW, new Found.Nothing(), Optional.empty(), Done.of(Deed.NOTHING))))
                .isEmpty();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            nullValues = "-",
            value = {
                "part-replaced||-|done[1].detail must say which part",
                "sensor-replaced|left one|-|done[1].detail must be one of evaporator",
                "refrigerant-added|gas|40|done[1].detail must be the refrigerant as on the rating plate",
                "refrigerant-added|R290|-|done[1].grams must be whole grams",
                "refrigerant-added|R290|0|done[1].grams must be whole grams",
                "refrigerant-recovered|R290|20001|done[1].grams must be whole grams",
                "cleaned|well|-|done[1].detail is not for cleaned",
                "adjusted|curtain|5|done[1].grams is not for adjusted",
                "lamp-changed||-|done[1] is there twice",
                "nothing||-|done says nothing, and something beside it",
            })
    void done_withAMistake_namesTheMember(String what, String detail, Integer grams, String says) {
        Done done = new Done(Deed.ofCode(what).orElseThrow(), detail == null ? "" : detail, Optional.ofNullable(grams));

        assertThat(wrong(report(Done.of(Deed.LAMP_CHANGED), done))).startsWith(says);
    }

    @ParameterizedTest
    @CsvSource({"R290", "R134a", "R404A", "R600a", "R744", "R1234yf", "R1234ze(E)", "R452A"})
    void refrigerant_designationsOfAshrae34_areTaken(String designation) {
        assertThat(wrong(report(gas(Deed.REFRIGERANT_ADDED, designation, 150)))).isEmpty();
    }

    @Test
    void report_withoutWhatItNeeds_isRefused() {
        assertThat(wrong(report())).startsWith("done is empty");
        assertThat(wrong(report(NOW, new Found.SomethingElse(" "), Optional.empty(), Done.of(Deed.CLEANED))))
                .startsWith("foundText is missing");
        assertThat(wrong(report(NOW, new Found.Nothing(), Optional.of(Origin.SITE), Done.of(Deed.NOTHING))))
                .startsWith("origin belongs to something that was found");
    }

    @Test
    void time_atTheEdges_isTakenAndRefusedBeyond() {
        Done done = Done.of(Deed.CLEANED);
        assertThat(wrong(report(NOW.plus(Duration.ofMinutes(10)), FAN, Optional.empty(), done)))
                .isEmpty();
        assertThat(wrong(report(NOW.plus(Duration.ofMinutes(10)).plusMillis(1), FAN, Optional.empty(), done)))
                .startsWith("time is in the future");
        assertThat(wrong(report(NOW.minus(Duration.ofDays(60)), FAN, Optional.empty(), done)))
                .isEmpty();
        assertThat(wrong(report(NOW.minus(Duration.ofDays(60)).minusMillis(1), FAN, Optional.empty(), done)))
                .startsWith("time is more than 60 days ago");
    }

    @Test
    void events_ofAReport_sayTheVisitAndEachThingOnce() {
        WorkReport report = report(
                Done.of(Deed.CLEANED),
                Done.of(Deed.DESCALED),
                Done.of(Deed.FIRST_BATCHES_DISCARDED),
                Done.of(Deed.PART_REPLACED, "drain pump"),
                Done.of(Deed.SENSOR_REPLACED, "evaporator"),
                gas(Deed.REFRIGERANT_RECOVERED, "R290", 90),
                gas(Deed.REFRIGERANT_ADDED, "R290", 95));

        List<Happened> events = WorkEvents.of("ice-1", report);

        assertThat(events)
                .extracting(event -> event.kind().code() + ' ' + event.detail())
                .containsExactly(
                        "visit fan-weak",
                        "cleaned descaled",
                        "part-replaced drain pump",
                        "part-replaced refrigerant charge",
                        "sensor-replaced evaporator");
        assertThat(events).allSatisfy(event -> {
            assertThat(event.at()).isEqualTo(NOW);
            assertThat(event.job()).isEqualTo("J-1");
            assertThat(event.by()).isEqualTo("Pim");
            assertThat(event.machine()).contains("ice-1");
        });
    }

    @Test
    void events_whereNothingWasFound_sayOnlyTheVisit() {
        WorkReport report = report(NOW, new Found.Nothing(), Optional.empty(), Done.of(Deed.NOTHING));

        assertThat(WorkEvents.of("ice-1", report))
                .extracting(Happened::kind, Happened::detail)
                .containsExactly(tuple(EventKind.VISIT, "nothing-found"));
    }
}
