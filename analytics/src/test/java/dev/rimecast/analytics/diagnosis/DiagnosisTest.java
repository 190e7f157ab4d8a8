package dev.rimecast.analytics.diagnosis;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DiagnosisTest {
    private static final Optional<EndsBy> TEMPERATURE = Optional.of(EndsBy.TEMPERATURE);

    private static Map<Feature, Observed.Level> levels(
            double pullDown, double freeze, double harvest, double split, double evaporator) {
        Map<Feature, Observed.Level> levels = new EnumMap<>(Feature.class);
        levels.put(Feature.PULL_DOWN, new Observed.Level(Math.log(pullDown), 0.03, 0.09, 0.05));
        levels.put(Feature.FREEZE, new Observed.Level(Math.log(freeze), 0.012, 0.04, 0.02));
        levels.put(Feature.HARVEST, new Observed.Level(Math.log(harvest), 0.025, 0.08, 0.03));
        levels.put(Feature.SPLIT, new Observed.Level(split, 0.35, 0.9, 0.4));
        levels.put(Feature.EVAPORATOR_END, new Observed.Level(evaporator, 0.25, 0.9, 0.4));
        return levels;
    }

    private static List<ProbableCause> diagnose(
            Feature about, boolean upward, Map<Feature, Observed.Level> levels, Course course, boolean afterWork) {
        return Diagnosis.of(new Observed(
                about,
                upward,
                levels,
                course,
                afterWork,
                afterWork,
                DrainSignals.EITHER,
                Set.of(),
                TEMPERATURE,
                Optional.empty()));
    }

    /**
     * Ratios of pull-down, freeze and harvest, and kelvin of split and evaporator, of the lumped model at severities that are
     * not those of the matrix's own lines (trade's notes, fault-symptom matrix and small-fault steps [SIM]).
     */
    @ParameterizedTest
    @CsvSource({
        "AIRFLOW_RESTRICTED, SPLIT, true, 1.10, 1.09, 0.965, 6.3, 0.5, DRIFT",
        "LOW_CHARGE, FREEZE, true, 1.40, 1.32, 1.24, -4.2, 1.5, DRIFT",
        "HOT_GAS_VALVE_LEAKING, FREEZE, true, 1.60, 1.60, 1.02, -1.8, 2.0, EITHER",
        "INLET_VALVE_LEAKING, FREEZE, true, 1.05, 1.40, 0.84, 0.7, 2.0, EITHER",
        "SCALE, FREEZE, false, 0.70, 0.80, 1.17, 0, 0, DRIFT",
        "WATER_LOSS, HARVEST, true, 1.07, 1.0, 1.28, -3, -11, STEP"
    })
    void diagnosis_signsOfTheModel_putTheCauseFirst(
            Cause cause,
            Feature about,
            boolean upward,
            double pullDown,
            double freeze,
            double harvest,
            double split,
            double evaporator,
            Course course) {
        List<ProbableCause> causes = diagnose(
                about, upward, levels(pullDown, freeze, harvest, split, evaporator), course, cause == Cause.WATER_LOSS);

        assertThat(causes.get(0).cause()).isEqualTo(cause);
        assertThat(causes.get(0).evidenceFor()).isNotEmpty();
        assertThat(causes.stream().mapToDouble(ProbableCause::probability).sum())
                .isLessThanOrEqualTo(1);
    }

    /** A sump plug is pulled: the freeze is short at once. Scale grows layer by layer. */
    @Test
    void greatStep_isNoScale() {
        Map<Feature, Observed.Level> levels = new EnumMap<>(Feature.class);
        levels.put(Feature.PULL_DOWN, new Observed.Level(Math.log(0.45), 0.03, 0.09, 0.05));
        levels.put(Feature.FREEZE, new Observed.Level(Math.log(0.5), 0.012, 0.04, 0.02));
        double asStep = probability(diagnose(Feature.FREEZE, false, levels, Course.STEP, false), Cause.SCALE);
        double asDrift = probability(diagnose(Feature.FREEZE, false, levels, Course.DRIFT, false), Cause.SCALE);

        assertThat(asDrift).isGreaterThan(0.2);
        assertThat(asStep).isLessThan(0.05);
    }

    private static double probability(List<ProbableCause> causes, Cause cause) {
        return causes.stream()
                .filter(each -> each.cause() == cause)
                .mapToDouble(ProbableCause::probability)
                .sum();
    }

    /**
     * Medians of faulty machines, over what they did before, in a simulator by another hand (the detection page names it): lines
     * of the matrix come from it, so this only holds them in place.
     */
    @ParameterizedTest
    @CsvSource({
        "WATER_LOSS, FREEZE, false, 0.335, 0.516, 0.49, -0.8, 0.4, STEP, true",
        "WATER_LOSS, FREEZE, false, 0.395, 0.535, 0.52, 0, 1.5, STEP, true",
        "AIR_IN_CIRCUIT_OR_OVERCHARGED, SPLIT, true, 1.15, 1.07, 0.92, 4, 0.4, STEP, true"
    })
    void diagnosis_medianOfAFourthSimulator_putsTheCauseFirst(
            Cause cause,
            Feature about,
            boolean upward,
            double pullDown,
            double freeze,
            double harvest,
            double split,
            double evaporator,
            Course course,
            boolean afterWork) {
        List<ProbableCause> causes =
                diagnose(about, upward, levels(pullDown, freeze, harvest, split, evaporator), course, afterWork);

        assertThat(causes.get(0).cause()).isEqualTo(cause);
    }

    /** A condenser in water has no fan and no grille. */
    @Test
    void diagnosis_whatTheMachineCannotHave_isNotNamedAndLeavesItsShareToOthers() {
        Map<Feature, Observed.Level> hot = levels(1.10, 1.09, 0.965, 6.3, 0.5);
        Set<Cause> ruledOut =
                Set.of(Cause.AIRFLOW_RESTRICTED, Cause.FAN_WEAK, Cause.FAN_FAILED, Cause.HOT_AIR_RECIRCULATING);
        Observed inWater = new Observed(
                Feature.SPLIT,
                true,
                hot,
                Course.EITHER,
                false,
                false,
                DrainSignals.EITHER,
                ruledOut,
                TEMPERATURE,
                Optional.empty());

        List<ProbableCause> causes = Diagnosis.of(inWater);

        assertThat(diagnose(Feature.SPLIT, true, hot, Course.EITHER, false)
                        .get(0)
                        .cause())
                .isEqualTo(Cause.AIRFLOW_RESTRICTED);
        assertThat(causes).extracting(ProbableCause::cause).doesNotContainAnyElementsOf(ruledOut);
        assertThat(causes.get(0).cause()).isEqualTo(Cause.AIR_IN_CIRCUIT_OR_OVERCHARGED);
    }

    /** Air or too much charge comes from an engineer's work; a cleaning by the site brings none of it. */
    @Test
    void diagnosis_hotCondenserAfterAVisit_mayBeTheEngineersWork() {
        Map<Feature, Observed.Level> hot = levels(1.02, 1.03, 0.97, 3.0, 0.2);
        assertThat(air(hot, true)).isGreaterThan(0.3);
        assertThat(air(hot, false)).isLessThan(0.1);
    }

    private static double air(Map<Feature, Observed.Level> levels, boolean afterVisit) {
        Observed observed = new Observed(
                Feature.SPLIT,
                true,
                levels,
                Course.STEP,
                true,
                afterVisit,
                DrainSignals.EITHER,
                Set.of(),
                TEMPERATURE,
                Optional.empty());
        return Diagnosis.of(observed).stream()
                .filter(c -> c.cause() == Cause.AIR_IN_CIRCUIT_OR_OVERCHARGED)
                .mapToDouble(ProbableCause::probability)
                .sum();
    }

    @ParameterizedTest
    @CsvSource({"EVEN, DRAIN_BLOCKED", "UNEVEN, LEVEL_PROBES_FOULED"})
    void diagnosis_longDrainSignals_byWhetherTheyAreAlike(DrainSignals signals, Cause cause) {
        Map<Feature, Observed.Level> levels = levels(1, 1, 1, 0, 0);
        levels.put(Feature.DRAIN_LEVEL, new Observed.Level(Math.log(2.2), 0.1, 0.2, 0.1));
        levels.put(Feature.DRAIN_RUN, new Observed.Level(Math.log(2.2), 0.1, 0.2, 0.1));

        List<ProbableCause> causes = Diagnosis.of(new Observed(
                Feature.DRAIN_LEVEL,
                true,
                levels,
                Course.DRIFT,
                false,
                false,
                signals,
                Set.of(),
                TEMPERATURE,
                Optional.empty()));

        assertThat(causes.get(0).cause()).isEqualTo(cause);
        assertThat(causes.get(0).evidenceFor()).anyMatch(words -> words.startsWith("Drain level signals"));
    }

    /**
     * After a cleaning. Scale at the second points of its lines, the other way round, for each way in which a freeze ends; then scale
     * itself, and causes that have come, as in the tests above.
     */
    @ParameterizedTest
    @CsvSource({
        "TEMPERATURE, PULL_DOWN, true, 1.49, 1.087, 0.926, 0, 0, true",
        "LEVEL, PULL_DOWN, true, 1.43, 0.91, 0.826, 0.7, 1.4, true",
        "THICKNESS, PULL_DOWN, true, 1.43, 0.91, 0.826, 0.7, 1.4, true",
        "TIME, PULL_DOWN, true, 1.35, 1, 1, 0.27, 0.5, true",
        "TEMPERATURE, PULL_DOWN, false, 0.67, 0.92, 1.08, 0, 0, false",
        "TEMPERATURE, FREEZE, true, 1.40, 1.32, 1.24, -4.2, 1.5, false",
        "TEMPERATURE, SPLIT, true, 1.10, 1.09, 0.965, 6.3, 0.5, false",
        "TEMPERATURE, HARVEST, true, 1.07, 1.0, 1.28, -3, -11, false",
        "TEMPERATURE, FREEZE, false, 0.335, 0.516, 0.49, -0.8, 0.4, false"
    })
    void scale_thatWasThereAndHasBeenTakenAway_isToldFromWhatHasCome(
            EndsBy freezeEndsBy,
            Feature about,
            boolean upward,
            double pullDown,
            double freeze,
            double harvest,
            double split,
            double evaporator,
            boolean isTakenAway) {
        Observed afterwards = new Observed(
                about,
                upward,
                levels(pullDown, freeze, harvest, split, evaporator),
                Course.STEP,
                true,
                false,
                DrainSignals.EITHER,
                Set.of(),
                Optional.of(freezeEndsBy),
                Optional.empty());

        assertThat(Diagnosis.isTakenAway(Cause.SCALE, afterwards)).isEqualTo(isTakenAway);
    }

    @Test
    void diagnosis_lowChargeOrWeakCompressor_areNotToldApart() {
        List<ProbableCause> causes =
                diagnose(Feature.FREEZE, true, levels(1.40, 1.32, 1.24, -4.2, 1.5), Course.DRIFT, false);

        assertThat(causes.subList(0, 2))
                .extracting(ProbableCause::cause)
                .containsExactly(Cause.LOW_CHARGE, Cause.COMPRESSOR_WEAK);
        assertThat(causes.get(0).probability()).isLessThan(0.8);
    }

    @Test
    void diagnosis_unknownControl_doesNotUseTheFreezeAgainstScale() {
        Map<Feature, Observed.Level> longer = levels(0.7, 1.15, 1.17, 0, 0);

        Observed unknown = new Observed(
                Feature.PULL_DOWN,
                false,
                longer,
                Course.DRIFT,
                false,
                false,
                DrainSignals.EITHER,
                Set.of(),
                Optional.empty(),
                Optional.empty());

        assertThat(SymptomMatrix.DISPUTED.get(Cause.SCALE)).contains(Feature.FREEZE);
        assertThat(SymptomMatrix.DISPUTED.get(Cause.AIRFLOW_RESTRICTED)).isEmpty();
        assertThat(wordsAbout(Diagnosis.of(unknown), Cause.SCALE)).noneMatch(words -> words.startsWith("Freeze"));
        assertThat(wordsAbout(diagnose(Feature.PULL_DOWN, false, longer, Course.DRIFT, false), Cause.SCALE))
                .anyMatch(words -> words.startsWith("Freeze is 15 % longer"));
    }

    private static List<String> wordsAbout(List<ProbableCause> causes, Cause cause) {
        ProbableCause found =
                causes.stream().filter(c -> c.cause() == cause).findFirst().orElseThrow();
        return Stream.concat(found.evidenceFor().stream(), found.evidenceAgainst().stream())
                .toList();
    }

    @Test
    void diagnosis_signsThatFitNothing_areNotSureOfAnything() {
        List<ProbableCause> causes =
                diagnose(Feature.FREEZE, true, levels(0.4, 1.5, 0.5, 12, -12), Course.EITHER, false);

        assertThat(causes).allSatisfy(c -> assertThat(c.probability()).isLessThan(0.5));
    }
}
