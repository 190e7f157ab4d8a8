package dev.rimecast.alerts.work;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.finding.Cause;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;

/** What each figure counts, and what it leaves out. */
class WorkFigureTest {
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:00Z");
    private static final Found SCALE = new Found.ACause(Cause.SCALE);
    private static final Found NOTHING = new Found.Nothing();

    private static StoredWork work(String machine, Duration ago, Found found, int caseOf) {
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
                Optional.empty(),
                caseOf == 0 ? Optional.empty() : Optional.of(new UUID(7, caseOf)));
        return new StoredWork(report, "bar", machine, "ada", NOW);
    }

    private static Duration days(int days) {
        return Duration.ofDays(days);
    }

    private static String figure(List<StoredWork> work, String code) {
        return WorkFigure.ofWork(work, NOW, NOW).stream()
                .filter(each -> each.code().equals(code))
                .map(each -> each.count() + " of " + each.of())
                .findFirst()
                .orElseThrow();
    }

    @Test
    void firstTimeFix_countsCasesWithOneReportThatAreSettled() {
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
        assertThat(WorkFigure.ofWork(work, NOW.minus(days(5)), NOW).get(2).of()).isEqualTo(1);
    }

    @Test
    void figures_eachSayWhatTheyCount() {
        assertThat(WorkFigure.ofWork(List.of(), NOW, NOW))
                .extracting(WorkFigure::code)
                .containsExactly("first-time-fix", "return-within-30-days", "nothing-found");
        assertThat(WorkFigure.ofWork(List.of(), NOW, NOW))
                .allSatisfy(each -> assertThat(each.definition()).startsWith("Of all"));
    }
}
