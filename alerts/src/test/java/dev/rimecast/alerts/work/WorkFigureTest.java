package dev.rimecast.alerts.work;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.finding.Cause;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** What each figure counts, and what it leaves out. */
class WorkFigureTest {
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:00Z");
    private static final Found SCALE = new Found.ACause(Cause.SCALE);
    private static final Found NOTHING = new Found.Nothing();

    private static final Set<UUID> ALL_MENDED =
            IntStream.rangeClosed(1, 9).mapToObj(WorkFigureTest::id).collect(Collectors.toSet());

    private static UUID id(int caseOf) {
        return new UUID(7, caseOf);
    }

    private static StoredWork work(String machine, Duration ago, Found found, int caseOf) {
        return work(machine, ago, found, caseOf, Optional.empty());
    }

    private static StoredWork work(String machine, Duration ago, Found found, int caseOf, Optional<UUID> visit) {
        WorkReport report = new WorkReport(
                UUID.randomUUID(),
                NOW.minus(ago),
                found,
                Optional.empty(),
                List.of(Done.of(Deed.NOTHING)),
                Optional.empty(),
                "",
                "",
                "",
                "",
                visit,
                caseOf == 0 ? Optional.empty() : Optional.of(id(caseOf)));
        return new StoredWork(report, "bar", machine, "ada", NOW);
    }

    private static Duration days(int days) {
        return Duration.ofDays(days);
    }

    private static String figure(List<StoredWork> work, String code) {
        return figure(work, ALL_MENDED, code);
    }

    private static String figure(List<StoredWork> work, Set<UUID> mended, String code) {
        return WorkFigure.ofWork(work, mended, NOW, NOW).stream()
                .filter(each -> each.code().equals(code))
                .map(each -> each.count() + " of " + each.of())
                .findFirst()
                .orElseThrow();
    }

    @Test
    void firstTimeFix_countsCasesWithOneVisitThatAreSettled() {
        List<StoredWork> work = List.of(
                work("a", days(90), SCALE, 1),
                work("b", days(80), SCALE, 2),
                work("b", days(70), SCALE, 2),
                work("c", days(30), SCALE, 3),
                work("d", days(30).minusMillis(1), SCALE, 4),
                work("e", days(60), SCALE, 0));

        assertThat(figure(work, "first-time-fix")).isEqualTo("2 of 3");
    }

    @Test
    void firstTimeFix_caseThatIsOpenOrBack_doesNotCount() {
        List<StoredWork> work = List.of(work("a", days(90), SCALE, 1), work("b", days(80), SCALE, 2));

        assertThat(figure(work, Set.of(id(2)), "first-time-fix")).isEqualTo("1 of 2");
        assertThat(figure(work, Set.of(), "first-time-fix")).isEqualTo("0 of 2");
    }

    @Test
    void firstTimeFix_visitThatFoundNothing_mendedNothing() {
        List<StoredWork> work = List.of(
                work("a", days(90), NOTHING, 1),
                work("b", days(80), NOTHING, 2),
                work("c", days(80).minusHours(1), SCALE, 2));

        assertThat(figure(work, "first-time-fix")).isEqualTo("1 of 2");
    }

    @Test
    void returnWithinThirtyDays_severalReportsOfOneVisit_areNoReturn() {
        Optional<UUID> one = Optional.of(new UUID(8, 1));
        List<StoredWork> work = List.of(
                work("a", days(90), SCALE, 1, one),
                work("a", days(89), SCALE, 1, one),
                work("b", days(90), SCALE, 2),
                work("b", days(90).minusHours(12), SCALE, 2),
                work("c", days(90), SCALE, 3),
                work("c", days(90).minusHours(13), SCALE, 3));

        assertThat(figure(work, "return-within-30-days")).isEqualTo("1 of 6");
    }

    @Test
    void firstTimeFix_severalReportsOfOneVisit_areOneVisit() {
        Optional<UUID> one = Optional.of(new UUID(8, 1));
        Optional<UUID> other = Optional.of(new UUID(8, 2));
        List<StoredWork> work = List.of(
                work("a", days(90), SCALE, 1, one),
                work("b", days(89), SCALE, 1, one),
                work("c", days(80), SCALE, 2),
                work("d", days(80).minusHours(12), SCALE, 2),
                work("e", days(70), SCALE, 3, one),
                work("e", days(70).minusHours(1), SCALE, 3, other),
                work("f", days(60), SCALE, 4),
                work("f", days(60).minusHours(13), SCALE, 4));

        assertThat(figure(work, "first-time-fix")).isEqualTo("2 of 4");
    }

    @Test
    void returnWithinThirtyDays_countsTheSameMachineUpToTheThirtiethDay() {
        List<StoredWork> work = List.of(
                work("a", days(90), SCALE, 0),
                work("b", days(90), SCALE, 0),
                work("a", days(60), SCALE, 0),
                work("b", days(60).minusMillis(1), SCALE, 0),
                work("c", days(10), SCALE, 0),
                work("c", days(5), SCALE, 0));

        assertThat(figure(work, "return-within-30-days")).isEqualTo("1 of 4");
    }

    @Test
    void nothingFound_countsAllReports() {
        List<StoredWork> work = List.of(work("a", days(9), NOTHING, 0), work("a", days(2), SCALE, 0));

        assertThat(figure(work, "nothing-found")).isEqualTo("1 of 2");
        assertThat(figure(List.of(), "nothing-found")).isEqualTo("0 of 0");
        assertThat(WorkFigure.ofWork(work, ALL_MENDED, NOW.minus(days(5)), NOW)
                        .get(2)
                        .of())
                .isEqualTo(1);
    }

    @Test
    void figures_eachSayWhatTheyCount() {
        assertThat(WorkFigure.ofWork(List.of(), ALL_MENDED, NOW, NOW))
                .extracting(WorkFigure::code)
                .containsExactly("first-time-fix", "return-within-30-days", "nothing-found");
        assertThat(WorkFigure.ofWork(List.of(), ALL_MENDED, NOW, NOW))
                .allSatisfy(each -> assertThat(each.definition()).startsWith("Of all"));
    }
}
