package dev.rimecast.history.backtest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.file.result.NamedCause;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class SideBySideTest {
    private static final Instant START = Instant.parse("2026-05-01T00:00:00Z");

    private static Instant day(int day) {
        return START.plus(Duration.ofDays(day));
    }

    private static AlertRow alert(String machine, int day, Optional<Cause> named) {
        return new AlertRow(
                machine + "-" + day,
                machine.isEmpty() ? Optional.empty() : Optional.of(machine),
                Condition.SLOW_PULL_DOWN,
                Stage.EARLY,
                Priority.LOW,
                day(day),
                Optional.empty(),
                named.map(cause -> List.of(new NamedCause(cause, 0.8))).orElse(List.of()),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                "");
    }

    private static AlertRow scale(String machine, int day) {
        return alert(machine, day, Optional.of(Cause.SCALE));
    }

    /** Of scale, from day 10 on, to be known by day 40. */
    private static Judged.Problem problem(String machine, Optional<AlertRow> first) {
        return new Judged.Problem(
                Optional.of(machine), Optional.empty(), Optional.of(Cause.SCALE), day(10), day(40), false, first);
    }

    private static Judged.Problem call(Optional<AlertRow> first) {
        return new Judged.Problem(
                Optional.empty(), Optional.of("bar"), Optional.empty(), day(20), day(23), true, first);
    }

    private static Judged judged(
            List<Judged.Problem> problems, List<AlertRow> right, List<AlertRow> wrong, List<AlertRow> unlabelled) {
        return new Judged(problems, right, wrong, unlabelled, List.of(), 0, 0, 1, 2);
    }

    private static SideBySide.OfMachine of(SideBySide sides, String machine) {
        return sides.machines().stream()
                .filter(each -> each.name().equals(machine))
                .findFirst()
                .orElseThrow();
    }

    /**
     * ice-1: known on day 30, and on day 20; ice-2: missed, and on day 25; ice-3: missed by both; ice-4: the same wrong alert; ice-5: wrong by
     * the first only.
     */
    private static SideBySide five() {
        AlertRow late = scale("ice-1", 30);
        AlertRow early = scale("ice-1", 20);
        AlertRow found = scale("ice-2", 25);
        AlertRow wrong = alert("ice-4", 12, Optional.of(Cause.FAN_WEAK));
        Judged current = judged(
                List.of(
                        problem("ice-1", Optional.of(late)),
                        problem("ice-2", Optional.empty()),
                        problem("ice-3", Optional.empty())),
                List.of(late),
                List.of(wrong, alert("ice-5", 14, Optional.empty())),
                List.of());
        Judged candidate = judged(
                List.of(
                        problem("ice-1", Optional.of(early)),
                        problem("ice-2", Optional.of(found)),
                        problem("ice-3", Optional.empty())),
                List.of(early, found),
                List.of(wrong),
                List.of(alert("ice-4", 50, Optional.empty())));
        return SideBySide.of(List.of(current, candidate));
    }

    @Test
    void twoPolicies_areLaidBesideEachOtherByMachine() {
        SideBySide sides = five();

        assertThat(of(sides, "ice-1").sums())
                .containsExactly(
                        new SideBySide.Sums(1, 1, 0, 1, 1, 0, 0, 0), new SideBySide.Sums(1, 1, 1, 0, 1, 0, 0, 0));
        assertThat(of(sides, "ice-2").sums())
                .as("what only one knew is neither earlier nor later")
                .containsExactly(
                        new SideBySide.Sums(1, 0, 0, 0, 0, 0, 0, 0), new SideBySide.Sums(1, 1, 0, 0, 1, 0, 0, 0));
        assertThat(of(sides, "ice-3").differs()).isFalse();
        assertThat(sides.machines().stream().map(SideBySide.OfMachine::name))
                .as("where they differ first, then what was missed or wrong, then by name")
                .containsExactly("ice-2", "ice-4", "ice-5", "ice-1", "ice-3");
    }

    @Test
    void eachMachine_hasPlotsAroundWhatIsMostTelling() {
        SideBySide sides = five();

        assertThat(of(sides, "ice-1").look()).as("of both the earlier").contains(new Look("ice-1", day(20)));
        assertThat(of(sides, "ice-2").look()).contains(new Look("ice-2", day(25)));
        assertThat(of(sides, "ice-3").look()).as("to be known by then").contains(new Look("ice-3", day(40)));
        assertThat(of(sides, "ice-4").look())
                .as("the alert that only one has, before the wrong one of both")
                .contains(new Look("ice-4", day(50)));
        assertThat(new Look("ice 4/a", day(50)).path())
                .isEqualTo("/machines/ice%204%2Fa?hours=168&to=2026-06-23T00:00:00Z");
    }

    @Test
    void problemsGoByTheirCause_andAlertsByTheOneThatTheyNamed() {
        SideBySide sides = five();

        assertThat(sides.causes().stream().map(SideBySide.OfCause::cause))
                .as("what has none comes last")
                .containsExactlyInAnyOrder(Optional.of(Cause.SCALE), Optional.of(Cause.FAN_WEAK), Optional.empty())
                .endsWith(Optional.empty());
        SideBySide.OfCause scale = sides.causes().stream()
                .filter(each -> each.cause().equals(Optional.of(Cause.SCALE)))
                .findFirst()
                .orElseThrow();
        assertThat(scale.sums())
                .containsExactly(
                        new SideBySide.Sums(3, 1, 0, 1, 1, 0, 0, 0), new SideBySide.Sums(3, 2, 1, 0, 2, 0, 0, 0));
        assertThat(scale.looks())
                .as("problems that make the difference, the newest first, then one that both missed")
                .containsExactly(new Look("ice-2", day(25)), new Look("ice-1", day(20)), new Look("ice-3", day(40)));
    }

    /** A call of a site is no machine's; an alert about no machine is counted all the same. */
    @Test
    void whatNamesNoMachine_isCounted_andHasPlotsWhereAnAlertHas() {
        Judged only = judged(
                List.of(call(Optional.empty()), call(Optional.of(scale("ice-9", 21)))),
                List.of(alert("", 21, Optional.empty())),
                List.of(),
                List.of());

        SideBySide sides = SideBySide.of(List.of(only));

        assertThat(of(sides, "bar").sums()).containsExactly(new SideBySide.Sums(2, 1, 0, 0, 0, 0, 0, 0));
        assertThat(of(sides, "bar").look())
                .as("the missed one is of no machine")
                .contains(new Look("ice-9", day(21)));
        assertThat(of(sides, "").sums()).containsExactly(new SideBySide.Sums(0, 0, 0, 0, 1, 0, 0, 0));
        assertThat(of(sides, "").look()).isEmpty();
    }

    @Test
    void sums_addUpToThoseOfThePolicy() {
        SideBySide sides = five();

        for (int policy = 0; policy < 2; policy++) {
            int at = policy;
            List<SideBySide.Sums> ofMachines =
                    sides.machines().stream().map(each -> each.sums().get(at)).toList();
            List<SideBySide.Sums> ofCauses =
                    sides.causes().stream().map(each -> each.sums().get(at)).toList();
            for (List<SideBySide.Sums> each : List.of(ofMachines, ofCauses)) {
                assertThat(each.stream().mapToInt(SideBySide.Sums::problems).sum())
                        .isEqualTo(3);
                assertThat(each.stream().mapToInt(SideBySide.Sums::alerts).sum())
                        .isEqualTo(policy == 0 ? 3 : 4);
            }
        }
    }

    @Test
    void policiesHeldAgainstDifferentLabels_areRefused() {
        Judged one = judged(List.of(problem("ice-1", Optional.empty())), List.of(), List.of(), List.of());
        Judged other = judged(List.of(problem("ice-2", Optional.empty())), List.of(), List.of(), List.of());
        Judged none = judged(List.of(), List.of(), List.of(), List.of());

        assertThatThrownBy(() -> SideBySide.of(List.of(one, other))).hasMessageContaining("different labels");
        assertThatThrownBy(() -> SideBySide.of(List.of(one, none))).hasMessageContaining("different labels");
    }
}
