package dev.rimecast.history.tune;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.Labels;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Machine;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.IntPredicate;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Twenty machines, of which the even ones have a fault on day 50 and the odd ones are sound. */
class TuningTest {
    private static final Instant START = Instant.parse("2026-03-01T00:00:00Z");
    private static final Costs COSTS = new Costs(100, 600, 0);

    @TempDir
    Path directory;

    private static String id(int machine) {
        return String.format(java.util.Locale.ROOT, "ice-%02d", machine);
    }

    private static Decided decided() {
        List<Machine> machines = IntStream.range(0, 20)
                .mapToObj(i -> Machine.basic(id(i), "bar", "gw-1"))
                .toList();
        Map<String, Decided.Span> watched = new TreeMap<>();
        machines.forEach(
                machine -> watched.put(machine.id(), new Decided.Span(START, START.plus(Duration.ofDays(100)))));
        return new Decided(machines, watched, List.of(), List.of(), 0, 0);
    }

    private Labels labels() throws IOException {
        StringBuilder truth = new StringBuilder("machine,cause,onset,stopped,deadline\n");
        for (int i = 0; i < 20; i++) {
            truth.append(id(i))
                    .append(i % 2 == 0 ? ",scale,2026-04-20T00:00:00Z,,2026-05-20T00:00:00Z\n" : ",none,,,\n");
        }
        Path file = directory.resolve("truth.csv");
        Files.writeString(file, truth);
        return Labels.of(decided(), Optional.of(file), List.of());
    }

    private static List<AlertRow> alerts(IntPredicate machines) {
        return alerts(machines, 60);
    }

    private static List<AlertRow> alerts(IntPredicate machines, int day) {
        List<AlertRow> alerts = new ArrayList<>();
        IntStream.range(0, 20)
                .filter(machines)
                .forEach(i -> alerts.add(new AlertRow(
                        "alert-" + i,
                        Optional.of(id(i)),
                        Condition.LONG_FREEZE,
                        Stage.EARLY,
                        Priority.MEDIUM,
                        START.plus(Duration.ofDays(day)),
                        Optional.empty(),
                        List.of(),
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty(),
                        "")));
        return alerts;
    }

    private Tuning tuning(List<List<AlertRow>> alerts) throws IOException {
        List<Double> values =
                IntStream.range(1, alerts.size()).mapToObj(i -> i / 10.0).toList();
        List<Variant> variants =
                Variant.of(Policy.standard(), List.of(new Sweep("change.false_alarms_per_machine_year", values)));
        return Tuning.of(variants, decided(), labels(), alerts, COSTS, 5);
    }

    /** As it is, half of the ten faults are missed; the second finds all and errs twice; the third is silent. */
    @Test
    void theCheapest_isTheOneThatCostsLeastByTheFirmsFigures() throws Exception {
        Tuning tuning = tuning(List.of(alerts(i -> i % 4 == 0), alerts(i -> i % 2 == 0 || i < 4), alerts(i -> false)));

        assertThat(tuning.costs()).containsExactly(5 * 600.0, 2 * 100.0, 10 * 600.0);
        assertThat(tuning.best()).isEqualTo(1);
        assertThat(tuning.outcome()).isEqualTo(Tuning.Outcome.PROPOSED);
        assertThat(tuning.unseen()).as("every part has it from the others").isEqualTo(200);
        assertThat(tuning.chosen()).isEqualTo(Map.of(1, 5));
        assertThat(IntStream.range(0, 3).filter(tuning::isOnFrontier))
                .as("the silent one misses more")
                .containsExactly(0, 1);
        assertThat(TuneText.of(tuning, COSTS, 5))
                .contains("change.false_alarms_per_machine_year: 0.1")
                .contains("Lower: fewer");
    }

    /**
     * Known, of ten faults, and wrong: 5 and none; 10 and 2; 5 and 1, as early as the first but noisier; 3 and 1; none at all, as quiet as the
     * first. A lead is 20 days; of all, where half are missed, the median lies between none and 20.
     */
    @Test
    void frontier_isOfWrongAlertsAgainstTheLeadOfAll() throws Exception {
        Tuning tuning = tuning(List.of(
                alerts(i -> i % 4 == 0),
                alerts(i -> i % 2 == 0 || i < 4),
                alerts(i -> i % 4 == 0 || i == 1),
                alerts(i -> (i < 6 && i % 2 == 0) || i == 1),
                alerts(i -> false)));

        assertThat(tuning.judged().stream()
                        .map(each -> each.leadOfAllHours().orElseThrow() / 24)
                        .toList())
                .containsExactly(10.0, 20.0, 10.0, 0.0, 0.0);
        assertThat(tuning.judged().get(3).leadHours(0.5)).as("of those known").hasValue(480);
        assertThat(IntStream.range(0, 5).filter(tuning::isOnFrontier)).containsExactly(0, 1);
        assertThat(TuneText.of(tuning, COSTS, 5))
                .as("Wilson, Garwood and two of the leads, as in the tables")
                .containsPattern("false_alarms_per_machine_year 0.1 .* 10 of 10 \\(0.79 to 1.00\\)")
                .containsPattern("2 \\(0.4 to 6.3\\) +20.0 d \\(20.0 to 20.0\\)")
                .containsPattern("\\* as it is .* 5 of 10 \\(0.27 to 0.73\\)");
    }

    /** Each variant is right on the machines of one part, by luck: on all together one wins, on what it has not seen none does. */
    @Test
    void luck_isSaidToBeLuck() throws Exception {
        List<List<AlertRow>> alerts = new ArrayList<>();
        alerts.add(alerts(i -> i % 4 == 0));
        for (int part = 0; part < 5; part++) {
            int lucky = part;
            // Machines are dealt in turn: those of a part are alike modulo five. It finds all there, and half of two
            // others less.
            alerts.add(alerts(
                    i -> i % 2 == 0 && (i % 5 == lucky || i % 5 == (lucky + 1) % 5 || i % 5 == (lucky + 2) % 5)));
        }

        Tuning tuning = tuning(alerts);

        assertThat(tuning.costs().get(tuning.cheapest())).isLessThan(tuning.before());
        assertThat(tuning.best()).isZero();
        assertThat(tuning.outcome()).isEqualTo(Tuning.Outcome.NOT_HELD);
        assertThat(TuneText.of(tuning, COSTS, 5)).contains("no better than chance");
    }

    /**
     * Twelve faults of the first half are found by the second only, six of the other half by the policy as it is only: in sum it saves,
     * and on every part of the machines, but what the first half teaches is dear in the second.
     */
    @Test
    void whatOneHalfOfTheTimeTeaches_hasToHoldInTheOther() throws Exception {
        StringBuilder truth = new StringBuilder("machine,cause,onset,stopped,deadline\n");
        for (int i = 0; i < 20; i++) {
            truth.append(id(i))
                    .append(
                            i < 12
                                    ? ",scale,2026-03-05T00:00:00Z,,2026-04-10T00:00:00Z\n"
                                    : i < 18 ? ",scale,2026-04-28T00:00:00Z,,2026-06-01T00:00:00Z\n" : ",none,,,\n");
        }
        Path file = directory.resolve("halves.csv");
        Files.writeString(file, truth);
        List<Variant> variants =
                Variant.of(Policy.standard(), List.of(new Sweep("change.false_alarms_per_machine_year", List.of(0.2))));

        Tuning tuning = Tuning.of(
                variants,
                decided(),
                Labels.of(decided(), Optional.of(file), List.of()),
                List.of(alerts(i -> i >= 12 && i < 18, 65), alerts(i -> i < 12, 20)),
                COSTS,
                5);

        assertThat(tuning.before() - tuning.unseen()).isGreaterThan(tuning.unsure());
        Tuning.OverTime over = tuning.overTime().orElseThrow();
        assertThat(over.before()).isEqualTo(12 * 600.0);
        assertThat(over.unseen()).as("each half with the other's choice").isEqualTo(18 * 600.0);
        assertThat(tuning.best()).isZero();
        assertThat(tuning.outcome()).isEqualTo(Tuning.Outcome.NOT_OVER_TIME);
        assertThat(TuneText.of(tuning, COSTS, 5))
                .contains("in a time that they had not seen")
                .contains("Chosen before 2026-04-20 and tried after it");
    }

    @Test
    void ofEquals_nothingChanges() throws Exception {
        Tuning tuning = tuning(List.of(alerts(i -> i % 2 == 0), alerts(i -> i % 2 == 0)));

        assertThat(tuning.best()).isZero();
        assertThat(tuning.outcome()).isEqualTo(Tuning.Outcome.NONE_CHEAPER);
        assertThat(TuneText.of(tuning, COSTS, 5)).contains("Proposed: nothing");
    }

    /** One machine of twenty decides: its fault is found by the second only. */
    @Test
    void oneMachine_decidesNothing() throws Exception {
        Tuning tuning = tuning(List.of(alerts(i -> i % 2 == 0 && i != 4), alerts(i -> i % 2 == 0)));

        assertThat(tuning.cheapest()).isEqualTo(1);
        assertThat(tuning.best()).isZero();
        assertThat(tuning.outcome()).isNotEqualTo(Tuning.Outcome.PROPOSED);
        assertThat(TuneText.of(tuning, COSTS, 5)).contains("standard error").contains("leave the policy as it is");
    }

    /** As it is, half of the faults are missed; a step away one wasted visit more than two steps away, which is one machine's doing. */
    @Test
    void ofNearEquals_theNearestToWhatIsInForceIsProposed() throws Exception {
        List<List<AlertRow>> alerts =
                List.of(alerts(i -> i % 4 == 0), alerts(i -> i % 2 == 0 || i == 1), alerts(i -> i % 2 == 0));
        List<Variant> variants = Variant.of(
                Policy.standard(), List.of(new Sweep("change.false_alarms_per_machine_year", List.of(0.2, 0.4))));

        Tuning tuning = Tuning.of(variants, decided(), labels(), alerts, COSTS, 5);

        assertThat(tuning.cheapest()).isEqualTo(2);
        assertThat(tuning.best()).isEqualTo(1);
        assertThat(TuneText.of(tuning, COSTS, 5))
                .contains("nearest")
                .contains("change.false_alarms_per_machine_year: 0.2");
    }

    @Test
    void steps_areValuesBetween() {
        List<Variant> variants = Variant.of(
                Policy.standard(),
                List.of(
                        new Sweep("change.false_alarms_per_machine_year", List.of(0.5, 0.2, 0.1, 0.05)),
                        new Sweep("change.clear_hours", List.of(24.0, 48.0))));

        // In the product's policy they are 0.1 and 48.
        assertThat(Variant.steps(variants)).containsExactly(0, 3, 2, 2, 1, 1, 0, 2, 1);
    }

    /** The numbers are by hand: of 3, 1, 2 the variance is 1, so of their sum it is 3. */
    @Test
    void standardErrorOfASum_isTheRootOfItsVariance() {
        assertThat(Choice.standardError(new double[] {3, 1, 2})).isCloseTo(Math.sqrt(3), within(1e-12));
        assertThat(Choice.standardError(new double[] {3})).isInfinite();
        assertThat(Choice.of(List.of(), new int[] {0})).isZero();
        assertThat(Choice.of(List.<double[]>of(new double[] {5, 1}), new int[] {0, 1}))
                .as("one machine tells no error")
                .isZero();
    }
}
