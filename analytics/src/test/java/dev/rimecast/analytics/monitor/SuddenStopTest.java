package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** A machine whose protection stops it in the midst of cycles that are as ever. */
class SuddenStopTest {
    private static List<Finding.ProbableCause> stopped(Machine.DrainKind drain, Machine.Cooling cooling) {
        Machine machine = Machine.basic(PlateModel.MACHINE, Scene.SITE, Scene.GATEWAY)
                .withBuild(new Machine.Build(Optional.empty(), Optional.of(drain), Optional.of(cooling)));
        PlateModel plate = new PlateModel(30, 0.2, true, true, false, 4);
        for (int day = 0; day < 8; day++) {
            plate.cycles(40).rest(5 * 3600, Phase.IDLE);
        }
        plate.cycles(6).rest(3600, Phase.STOPPED);
        Scene scene = new Scene()
                .take(new SiteRecord.Registered(Instant.EPOCH, machine))
                .readings(plate.readings);
        assertThat(scene.of(Condition.STOPPED_BY_PROTECTION)).hasSize(1);
        return scene.of(Condition.STOPPED_BY_PROTECTION).get(0).causes();
    }

    @Test
    void stop_withoutASign_isFirstOfTheDrainPumpWhereThereIsOne() {
        List<Finding.ProbableCause> causes = stopped(Machine.DrainKind.PUMP, Machine.Cooling.AIR);

        assertThat(causes.get(0).cause()).isEqualTo(Cause.DRAIN_PUMP_FAILED);
        assertThat(causes.get(0).evidenceAgainst()).containsExactly("Its channels don't say why it stopped.");
        assertThat(causes.stream()
                        .mapToDouble(Finding.ProbableCause::probability)
                        .sum())
                .as("some of it is left open")
                .isLessThan(0.75);
    }

    @Test
    void stop_ofAMachineThatHasNeitherPumpNorFan_isNotLaidToThem() {
        assertThat(stopped(Machine.DrainKind.GRAVITY, Machine.Cooling.WATER))
                .extracting(Finding.ProbableCause::cause)
                .contains(Cause.DRAIN_BLOCKED)
                .doesNotContain(Cause.DRAIN_PUMP_FAILED, Cause.FAN_FAILED);
    }
}
