package dev.rimecast.history.compare;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Priority;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class DifferenceTest {
    private static final Instant DAY = Instant.parse("2026-03-01T00:00:00Z");

    private static Instant hour(int hour) {
        return DAY.plusSeconds(3600L * hour);
    }

    private static Raised alert(String machine, Condition condition, int from, int to) {
        return new Raised(
                Finding.idOf(machine, condition, hour(from)),
                "harbour",
                Optional.of(machine),
                Optional.empty(),
                condition,
                Priority.LOW,
                hour(from),
                to < 0 ? Optional.empty() : Optional.of(hour(to)),
                "",
                "");
    }

    private static Raised slow(int from, int to) {
        return alert("ice-1", Condition.SLOW_PULL_DOWN, from, to);
    }

    private static List<Difference.Kind> kinds(List<Raised> current, List<Raised> candidate) {
        return Difference.between(current, candidate).stream()
                .map(Difference::kind)
                .toList();
    }

    @Test
    void whatIsTheSame_isNoDifference() {
        assertThat(kinds(List.of(slow(1, 5), slow(8, -1)), List.of(slow(8, -1), slow(1, 5))))
                .isEmpty();
        assertThat(kinds(List.of(), List.of())).isEmpty();
    }

    @Test
    void oneOfTheTwo_andBothAtOtherTimes() {
        assertThat(kinds(List.of(), List.of(slow(1, 5)))).containsExactly(Difference.Kind.ADDED);
        assertThat(kinds(List.of(slow(1, 5)), List.of())).containsExactly(Difference.Kind.LEFT_OUT);
        assertThat(kinds(List.of(slow(3, 9)), List.of(slow(1, 9)))).containsExactly(Difference.Kind.EARLIER);
        assertThat(kinds(List.of(slow(1, 9)), List.of(slow(3, -1)))).containsExactly(Difference.Kind.LATER);
        assertThat(kinds(List.of(slow(1, -1)), List.of(slow(1, 9)))).containsExactly(Difference.Kind.OVER_SOONER);
        assertThat(kinds(List.of(slow(1, 5)), List.of(slow(1, 9)))).containsExactly(Difference.Kind.OVER_LATER);
    }

    @Test
    void alertsThatDoNotMeet_orAreOfOtherThings_areTwo() {
        assertThat(kinds(List.of(slow(1, 3)), List.of(slow(5, 9))))
                .containsExactly(Difference.Kind.LEFT_OUT, Difference.Kind.ADDED);
        assertThat(kinds(List.of(slow(1, 3)), List.of(alert("ice-2", Condition.SLOW_PULL_DOWN, 1, 3))))
                .containsExactlyInAnyOrder(Difference.Kind.LEFT_OUT, Difference.Kind.ADDED);
        assertThat(kinds(List.of(slow(1, 3)), List.of(alert("ice-1", Condition.LONG_FREEZE, 1, 3))))
                .containsExactlyInAnyOrder(Difference.Kind.LEFT_OUT, Difference.Kind.ADDED);
    }

    /** One that stands long meets two short ones: it stands for the first, the second is more. */
    @Test
    void oneAgainstTwo_isPairedOnce() {
        assertThat(kinds(List.of(slow(1, 20)), List.of(slow(2, 5), slow(9, 12))))
                .containsExactly(Difference.Kind.LATER, Difference.Kind.ADDED);
    }
}
