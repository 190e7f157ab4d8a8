package dev.rimecast.analytics.policy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.statistics.CusumDesign;
import dev.rimecast.analytics.statistics.EwmaDesign;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class PolicyTest {

    /** Facts of the trade: a freeze that takes 15 minutes to 0 °C, a level signal of 6 s [common practice]. */
    @Test
    void standard_limits_areThoseOfTheTrade() {
        GroupPolicy all = Policy.standard().forGroup(Optional.empty());

        assertThat(all.get(PolicyNumber.PULL_DOWN_LIMIT_SECONDS)).isEqualTo(900);
        assertThat(all.get(PolicyNumber.DRAIN_LEVEL_LIMIT_SECONDS)).isEqualTo(6);
    }

    @Test
    void standard_everyNumber_isExplainedInTheLinesBefore() {
        List<String> lines = Policy.standard().yaml().lines().toList();
        for (PolicyNumber number : PolicyNumber.values()) {
            int at = lines.indexOf(lines.stream()
                    .filter(l -> l.strip().startsWith(number.key() + ":"))
                    .findFirst()
                    .orElseThrow(() -> new AssertionError(number.key() + " is not in policy.yaml")));
            assertThat(lines.get(at - 1).strip()).as("before " + number.key()).startsWith("#");
        }
    }

    @Test
    void parse_groupWithOneNumber_keepsTheOthers() {
        Policy policy = Policy.parse("""
                version: mine
                all:
                  limits: {condensing_celsius: 62}
                groups:
                  cube-50:
                    limits: {pull_down_seconds: 600}
                    features: {split: {material: 2.5}}
                """);

        GroupPolicy cube = policy.forGroup(Optional.of("cube-50"));
        assertThat(policy.version()).isEqualTo("mine");
        assertThat(cube.get(PolicyNumber.PULL_DOWN_LIMIT_SECONDS)).isEqualTo(600);
        assertThat(cube.get(PolicyNumber.CONDENSING_LIMIT_CELSIUS)).isEqualTo(62);
        assertThat(cube.get(Feature.SPLIT, FeatureNumber.MATERIAL)).isEqualTo(2.5);
        assertThat(policy.forGroup(Optional.of("other")).get(PolicyNumber.PULL_DOWN_LIMIT_SECONDS))
                .isEqualTo(900);
    }

    @Test
    void parse_everythingWrong_isToldAtOnceWithKeys() {
        assertThatThrownBy(() -> Policy.parse("""
                        version: mine
                        all:
                          limits: {condensing_celsius: 900, pulldown_seconds: 600}
                        """))
                .isInstanceOf(YamlProblems.class)
                .hasMessageContaining("all.limits.condensing_celsius")
                .hasMessageContaining("all.limits.pulldown_seconds")
                .hasMessageContaining("pull_down_seconds");
    }

    @Test
    void changeLimits_fromTheFalseAlarmRate_haveTheRunLengthTheyMustHave() {
        GroupPolicy all = Policy.standard().forGroup(Optional.empty());
        double rate = all.get(PolicyNumber.FALSE_ALARMS_PER_YEAR);

        double blocks = CusumDesign.averageRunLength(
                all.get(PolicyNumber.REFERENCE), all.changeLimits().block(), 0);
        double cycles = CusumDesign.averageRunLength(
                all.get(PolicyNumber.STEP_REFERENCE), all.changeLimits().step(), 0);

        double weight = all.get(PolicyNumber.EWMA_WEIGHT);
        double averages =
                EwmaDesign.averageRunLength(weight, all.changeLimits().average() / EwmaDesign.sigma(weight), 0);

        // Ten features, sums with two sides each; block medians at most every two hours, cycles at most every 24
        // minutes.
        double perYear = 10 * (365 * 12 * (2 / blocks + 1 / averages) + 365 * 60 * 2 / cycles);
        assertThat(perYear).isCloseTo(rate, within(rate * 0.01));
    }
}
