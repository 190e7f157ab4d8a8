package dev.rimecast.history.tune;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class VariantTest {
    private static final String NUMBER = "change.false_alarms_per_machine_year";

    @Test
    void everyCombination_thePolicyAsItIsFirst() {
        List<Variant> variants = Variant.of(
                Policy.standard(),
                List.of(Sweep.parse(NUMBER + "=0.2, 0.5"), Sweep.parse("delays.machine_silent_minutes=60,90")));

        assertThat(variants)
                .extracting(Variant::name)
                .containsExactly(
                        "as it is",
                        "false_alarms_per_machine_year 0.2, machine_silent_minutes 60",
                        "false_alarms_per_machine_year 0.2, machine_silent_minutes 90",
                        "false_alarms_per_machine_year 0.5, machine_silent_minutes 60",
                        "false_alarms_per_machine_year 0.5, machine_silent_minutes 90");
        assertThat(variants.get(0).policy()).isSameAs(Policy.standard());
        assertThat(variants.get(1).policy().version()).isEqualTo("standard-1-tuned");
    }

    /** What the firm has set itself stays, for all machines and for its model groups; the text can be put into force as it is. */
    @Test
    void whatIsNotSwept_staysAsItWas() {
        Policy own = Policy.parse("version: cellar-2\nall:\n  change:\n    ewma_weight: 0.05\n"
                + "groups:\n  cube-50:\n    limits:\n      condensing_celsius: 60\n");

        Variant variant = Variant.of(own, List.of(Sweep.parse(NUMBER + "=0.5"))).get(1);
        Policy readAgain = Policy.parse(variant.policy().yaml());

        assertThat(readAgain.yaml()).contains("ewma_weight: 0.05").contains("false_alarms_per_machine_year: 0.5");
        assertThat(readAgain.forGroup(Optional.of("cube-50"))).isNotEqualTo(readAgain.forGroup(Optional.empty()));
        assertThat(readAgain.yaml()).contains("condensing_celsius: 60");
    }

    @Test
    void whatIsNone_isSaid() {
        assertThatThrownBy(() -> Variant.of(Policy.standard(), List.of(Sweep.parse("change.moon=1"))))
                .isInstanceOf(YamlProblems.class)
                .hasMessageContaining("change.moon");
        assertThatThrownBy(() -> Variant.of(Policy.standard(), List.of(Sweep.parse("change.ewma_weight=7"))))
                .isInstanceOf(YamlProblems.class)
                .hasMessageContaining("ewma_weight");
        for (String text : List.of("change.ewma_weight", "=1", "a=", "a=1,x", "a=1,1")) {
            assertThatThrownBy(() -> Sweep.parse(text))
                    .as(text)
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("path=value");
        }
        List<Sweep> many = List.of(
                Sweep.parse(NUMBER + "=0.1,0.2,0.3,0.4,0.5,0.6,0.7,0.8"),
                Sweep.parse("change.ewma_weight=0.1,0.2,0.3,0.4,0.5,0.6,0.7,0.8"));
        assertThatThrownBy(() -> Variant.of(Policy.standard(), many)).hasMessageContaining("64 combinations");
    }
}
