package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Machines that have been what they are since their first cycle: nothing ever changes, and nothing else shows it. */
class BelowItsKindTest {
    private static final int DAYS = 5;

    private final List<String> rows = new ArrayList<>(
            List.of("machine,site,gateway,model_group,kind,condenser_cooling,rated_kg_per_day,bin_kg,freeze_ends_by"));

    @TempDir
    Path directory;

    private final List<Reading> readings = new ArrayList<>();

    /** @param longer share by which its freezes are longer, and twice that by which its pull-downs are */
    private PlateModel machine(String id, String group, double longer, double splitKelvin) {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, id.hashCode());
        plate.pullDownSeconds *= 1 + 2 * longer;
        plate.freezeSeconds *= 1 + longer;
        plate.splitKelvin += splitKelvin;
        rows.add(id + "," + Scene.SITE + "," + Scene.GATEWAY + "," + group + ",batch,air,50,20,level");
        return plate;
    }

    private void live(String id, PlateModel plate, int days) {
        long until = plate.now() + days * 86_400_000L;
        while (plate.now() < until) {
            plate.cycles(8).rest(3600, Phase.IDLE);
        }
        readings.addAll(plate.readingsOf(id));
        plate.readings.clear();
    }

    private Scene watched(Scene scene) {
        readings.sort(Comparator.comparingLong(Reading::timeMillis));
        scene.readings(readings);
        readings.clear();
        return scene;
    }

    private Scene registered() throws IOException {
        Scene scene = new Scene();
        MachinesFile.read(Files.write(directory.resolve("machines.csv"), rows))
                .forEach(machine -> scene.take(new SiteRecord.Registered(Instant.EPOCH, machine)));
        return scene;
    }

    @Test
    void oneOfFourThatWasWeakFromTheFirstDay_isFoundBesideTheOthers_andNoOther() throws IOException {
        live("a", machine("a", "cube", 0, 0), DAYS);
        live("b", machine("b", "cube", 0.05, -1), DAYS);
        live("c", machine("c", "cube", -0.04, 1), DAYS);
        live("d", machine("d", "cube", 0.12, 11), DAYS);
        Scene scene = watched(registered());

        List<Finding> found = scene.of(Condition.BELOW_ITS_KIND);
        assertThat(found).isNotEmpty().allMatch(finding -> finding.machine().equals(Optional.of("d")));
        Finding first = found.get(0);
        assertThat(first.summary())
                .isEqualTo("Ever since its first cycles: Condensing temperature over ambient is "
                        + String.format(
                                "%.1f K higher than it should be. ",
                                first.measure().orElseThrow().value()
                                        - first.measure()
                                                .orElseThrow()
                                                .expected()
                                                .orElseThrow())
                        + "Held against 3 others of its model group on the site.");
        assertThat(first.measure().orElseThrow().value())
                .as("15 K of the drawing and 11 of this machine")
                .isBetween(25.0, 27.0);
        assertThat(first.probableCause().orElseThrow().cause())
                .as("split, pull-down and freeze together are air that can't get through")
                .isIn(Cause.AIRFLOW_RESTRICTED, Cause.FAN_WEAK, Cause.FAN_FAILED);
    }

    @Test
    void machinesThatDifferAsMachinesDo_makeNoFinding() throws IOException {
        Random random = new Random(7);
        for (String id : List.of("a", "b", "c", "d", "e", "f")) {
            live(id, machine(id, "cube", 0.06 * random.nextGaussian(), 1.2 * random.nextGaussian()), DAYS);
        }
        assertThat(watched(registered()).of(Condition.BELOW_ITS_KIND)).isEmpty();
    }

    /** Of two, either may be the odd one; and machines of another group say nothing. */
    @Test
    void withoutTwoOthersOfItsGroup_onlyThePolicyTells() throws IOException {
        live("a", machine("a", "cube", 0, 0), DAYS);
        live("b", machine("b", "flake", 0, 0), DAYS);
        live("c", machine("c", "flake", 0, 0), DAYS);
        PlateModel weak = machine("d", "cube", 0.12, 11);
        live("d", weak, DAYS);
        Scene scene = watched(registered());
        assertThat(scene.of(Condition.BELOW_ITS_KIND)).isEmpty();

        // An analyst who knows the group says how narrow it is.
        String narrow = """
                version: own-1
                groups:
                  cube:
                    features:
                      split: {typical: 15, typical_spread: 2}
                """;
        scene.take(new SiteRecord.PolicyActivated(Instant.EPOCH, "own-1", narrow));
        live("d", weak, 2);
        watched(scene);
        assertThat(scene.of(Condition.BELOW_ITS_KIND))
                .isNotEmpty()
                .allMatch(finding -> finding.machine().equals(Optional.of("d")))
                .allMatch(
                        finding -> finding.summary().endsWith("Held against what the policy has of its model group."));
    }

    @Test
    void weakMachineThatWasMended_doesWhatItsKindDoes_andTheFindingEnds() throws IOException {
        live("a", machine("a", "cube", 0, 0), 2 * DAYS);
        live("b", machine("b", "cube", 0.05, -1), 2 * DAYS);
        live("c", machine("c", "cube", -0.04, 1), 2 * DAYS);
        PlateModel weak = machine("d", "cube", 0.12, 11);
        live("d", weak, DAYS);
        List<Reading> before = new ArrayList<>(readings);
        long mended = weak.now();
        weak.splitKelvin -= 11;
        weak.freezeSeconds /= 1.12;
        weak.pullDownSeconds /= 1.24;
        readings.clear();
        live("d", weak, DAYS);
        before.addAll(readings);
        before.sort(Comparator.comparingLong(Reading::timeMillis));

        Scene scene = registered();
        scene.readings(before.stream().filter(r -> r.timeMillis() < mended).toList());
        assertThat(scene.of(Condition.BELOW_ITS_KIND)).isNotEmpty();
        scene.take(new SiteRecord.Happened(
                Instant.ofEpochMilli(mended), Optional.of("d"), EventKind.VISIT, "condenser cleaned", "", ""));
        scene.readings(before.stream().filter(r -> r.timeMillis() >= mended).toList());

        List<Finding> found = scene.of(Condition.BELOW_ITS_KIND);
        assertThat(found.get(found.size() - 1).step()).isEqualTo(Finding.Step.CLEARED);
    }
}
