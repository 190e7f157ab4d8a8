package dev.rimecast.analytics.policy;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.policy.PolicyForm.Difference;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class PolicyTextTest {
    private static final String RATE = "change.false_alarms_per_machine_year";

    @Test
    void changesOfTheProductsPolicy_areAllThatIsWritten() {
        String text = PolicyText.of(
                Policy.standard(),
                "firm-2",
                Map.of(RATE, 0.2, "features.pull_down.material", 0.2, "change.clear_hours", 48.0));

        assertThat(text.lines().map(String::strip))
                .containsExactlyInAnyOrder(
                        "version: firm-2",
                        "all:",
                        "change:",
                        "false_alarms_per_machine_year: 0.2",
                        "features:",
                        "pull_down:",
                        "material: 0.2");
        assertThat(PolicyForm.differences(Policy.standard(), Policy.parse(text)))
                .containsExactly(
                        new Difference(Optional.empty(), RATE, 0.1, 0.2),
                        new Difference(Optional.empty(), "features.pull_down.material", 0.16, 0.2));
    }

    /** What somebody has set stays, and what is set back to the product's value follows the product again. */
    @Test
    void changesOfAFirmsPolicy_leaveTheRest() {
        Policy own = Policy.parse("version: cellar-2\nall:\n  change:\n    ewma_weight: 0.05\n    clear_hours: 24\n"
                + "groups:\n  cube-50:\n    limits:\n      condensing_celsius: 60\n");

        Policy next = Policy.parse(PolicyText.of(own, "firm-3", Map.of("change.ewma_weight", 0.03)));

        assertThat(next.version()).isEqualTo("firm-3");
        assertThat(next.yaml()).doesNotContain("ewma_weight").contains("clear_hours: 24");
        assertThat(PolicyForm.differences(own, next))
                .containsExactly(new Difference(Optional.empty(), "change.ewma_weight", 0.05, 0.03));
        Policy bare = Policy.parse(PolicyText.of(
                Policy.parse("version: a\nall: {change: {ewma_weight: 0.05}}\n"),
                "b",
                Map.of("change.ewma_weight", 0.03)));
        assertThat(bare.yaml().strip()).isEqualTo("version: b");
    }

    @Test
    void difference_ofAModelGroup_isSaidForTheGroup() {
        Policy before = Policy.parse("version: a\ngroups: {cube-50: {limits: {condensing_celsius: 60}}}\n");
        Policy after = Policy.parse("version: b\nall: {limits: {pull_down_seconds: 800}}\n"
                + "groups: {cube-50: {limits: {condensing_celsius: 58}}}\n");

        assertThat(PolicyForm.differences(before, after))
                .containsExactly(
                        new Difference(Optional.empty(), "limits.pull_down_seconds", 900, 800),
                        new Difference(Optional.of("cube-50"), "limits.condensing_celsius", 60, 58));
    }

    @Test
    void everyNumber_isInTheForm_withWordsAndItsStandardInItsRange() {
        List<PolicyForm.Entry> entries = PolicyForm.standard().entries();

        assertThat(entries).hasSize(PolicyNumber.values().length + 10 * FeatureNumber.values().length);
        assertThat(entries).allSatisfy(entry -> {
            assertThat(entry.range().contains(entry.standard()))
                    .as(entry.path())
                    .isTrue();
            assertThat(PolicyForm.value(Policy.standard(), entry))
                    .as(entry.path())
                    .isEqualTo(entry.standard());
        });
    }

    /** Nobody can move a number that nobody has explained. */
    @Test
    void numbersOfFeatures_areExplainedWholly() {
        Map<String, String> texts = new LinkedHashMap<>();
        PolicyForm.standard().entries().forEach(entry -> texts.put(entry.path(), entry.text()));

        assertThat(texts).allSatisfy((path, text) -> {
            if (path.startsWith("features.")) {
                assertThat(text).as(path).isNotBlank().doesNotContain("*_spread");
            }
        });
        assertThat(texts.get("features.split.bend"))
                .isEqualTo(
                        "share of what ambient and water change beyond the mean of what was learned that may be wrong, since"
                                + " nothing is straight. Higher: fewer false alarms as seasons change, slow faults found later then.");
        assertThat(texts.get("features.freeze.water_slope")).isEqualTo("change per kelvin.");
        assertThat(texts.get("features.freeze.water_slope_spread"))
                .isEqualTo("how sure that is. Wider: learned from the machine.");
    }
}
