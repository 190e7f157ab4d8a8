package dev.rimecast.analytics.policy;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.finding.Ground;
import dev.rimecast.telemetry.finding.Ground.Source;
import dev.rimecast.telemetry.machine.Machine;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class GroundingTest {
    private static final Policy OWN = Policy.parse("""
            version: mine
            all:
              delays: {stopped_minutes: 7}
            groups:
              cube-50:
                features: {split: {material: 2.5}}
            """);

    private static final Threshold SPLIT = new Threshold.OfFeature(Feature.SPLIT, FeatureNumber.MATERIAL);

    private static List<Ground> of(Policy policy, String group, Threshold... thresholds) {
        return Grounding.of(List.of(thresholds), policy.forGroup(Optional.of(group)), Optional.empty());
    }

    @Test
    void of_aNumberOfEachLevel_saysWhoseItIs() {
        assertThat(of(OWN, "cube-50", SPLIT, PolicyNumber.STOPPED_MINUTES, PolicyNumber.CONDENSING_LIMIT_CELSIUS))
                .containsExactly(
                        new Ground("features.split.material", 2.5, "K", Source.MODEL_GROUP),
                        new Ground("delays.stopped_minutes", 7, "min", Source.POLICY),
                        new Ground("limits.condensing_celsius", 65, "Cel", Source.STANDARD));
        assertThat(of(OWN, "another", SPLIT))
                .containsExactly(new Ground("features.split.material", 1.0, "K", Source.STANDARD));
    }

    @Test
    void of_aLimitOfTheMachinesRow_goesBeforeThePolicy(@TempDir Path directory) throws IOException {
        Path file = directory.resolve("machines.csv");
        Files.writeString(file, "machine,site,gateway,condensing_limit_c\nbar-1,harbour,gw-1,58\n");
        Machine machine = MachinesFile.read(file).get(0);

        assertThat(Grounding.of(
                        List.of(PolicyNumber.CONDENSING_LIMIT_CELSIUS, PolicyNumber.PULL_DOWN_LIMIT_SECONDS),
                        OWN.forGroup(Optional.empty()),
                        Optional.of(machine)))
                .containsExactly(
                        new Ground("limits.condensing_celsius", 58, "Cel", Source.REGISTER),
                        new Ground("limits.pull_down_seconds", 900, "s", Source.STANDARD));
    }

    @Test
    void of_whatNoPolicyHas_isOfTheRegisterOrTheDetector() {
        assertThat(of(
                        OWN,
                        "another",
                        new Threshold.OfRegister("ambient_max_c", 40, "Cel"),
                        new Threshold.BuiltIn("stops_a_day", 3, "")))
                .containsExactly(
                        new Ground("register.ambient_max_c", 40, "Cel", Source.REGISTER),
                        new Ground("detector.stops_a_day", 3, "", Source.DETECTOR));
    }

    @Test
    void guide_everyNumber_hasItsStandardAndTheWordsAboveIt() {
        PolicyGuide guide = PolicyGuide.standard();

        for (PolicyNumber number : PolicyNumber.values()) {
            assertThat(guide.of(Grounding.path(number)).orElseThrow().text())
                    .as(number.key())
                    .isNotBlank();
        }
        for (FeatureNumber number : List.of(FeatureNumber.MATERIAL, FeatureNumber.NOISE, FeatureNumber.BEND)) {
            assertThat(guide.of("features.freeze." + number.key()).orElseThrow().text())
                    .as(number.key())
                    .isNotBlank();
        }
        assertThat(guide.of("delays.stopped_minutes"))
                .contains(new PolicyGuide.Explained(5, "min in the phase \"stopped\""));
        assertThat(guide.of("features.split.material").orElseThrow().text())
                .isEqualTo("the least change that is worth a finding, where a machine has not shown that it is calmer "
                        + "(own_scatter, least_material_share). Smaller: earlier, more often wrongly.");
        assertThat(guide.of("detector.stops_a_day")).isEmpty();
    }
}
