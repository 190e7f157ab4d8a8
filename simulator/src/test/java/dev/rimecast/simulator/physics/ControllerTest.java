package dev.rimecast.simulator.physics;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** What the machine's own controller does. Times: facts of the trade (common practice). */
class ControllerTest implements MachineEvents {
    private record Entered(long seconds, Phase phase) {}

    private final List<Entered> phases = new ArrayList<>();
    private final List<Double> fills = new ArrayList<>();
    private Optional<StopReason> stop = Optional.empty();
    private final Surroundings place = new Surroundings(25, 15);
    private long now;

    @Test
    void machine_switchedOn_fillsForFiveMinutesBeforeItFreezes() {
        run(machine(Control.USUAL), 400);
        assertThat(phases)
                .containsExactly(
                        new Entered(10, Phase.WAIT), new Entered(20, Phase.FILL), new Entered(320, Phase.FREEZE));
        assertThat(fills).containsExactly(300.0);
    }

    @Test
    void machine_setToWaitAnHour_freezesAnHourAfterPowerOn() {
        run(machine(Control.USUAL.withStartDelay(3600)), 4000);
        assertThat(phases.get(0).phase()).isEqualTo(Phase.WAIT);
        assertThat(phases.get(2).phase()).isEqualTo(Phase.FREEZE);
        assertThat(phases.get(2).seconds() - phases.get(0).seconds()).isBetween(3600L, 3620L);
    }

    @Test
    void machine_withAFullBin_restsAfterTheHarvest() {
        IceMachine machine = machine(Control.USUAL);
        run(machine, 600);
        place.bin(true, true);
        run(machine, 3600);
        assertThat(machine.phase()).isEqualTo(Phase.IDLE);
        place.bin(false, true);
        run(machine, 200);
        assertThat(machine.phase()).isEqualTo(Phase.FREEZE);
    }

    @Test
    void machine_withoutCompressor_stopsAfterFifteenMinutesOfPullDownAndTriesAgain() {
        IceMachine machine = machine(Control.USUAL);
        machine.ailments().with(Ailment.COMPRESSOR_STARTS, 0);
        machine.ailmentsChanged();
        run(machine, 320 + 890);
        assertThat(stop).isEmpty();
        run(machine, 20);
        assertThat(stop).contains(StopReason.PULL_DOWN);
        assertThat(machine.phase()).isEqualTo(Phase.STOPPED);
        run(machine, 1800 + 310);
        assertThat(machine.phase()).isEqualTo(Phase.FREEZE);
        run(machine, 4 * 3600);
        assertThat(machine.isLockedOut()).isTrue();
        machine.reset(now);
        run(machine, 30);
        assertThat(machine.phase()).isEqualTo(Phase.FILL);
    }

    @Test
    void machine_whoseDrainPumpFailed_stopsWhenTheLevelSignalIsSixSecondsOld() {
        IceMachine machine = machine(Control.USUAL);
        machine.ailments().with(Ailment.DRAIN_PUMP_RUNS, 0);
        machine.ailmentsChanged();
        run(machine, 3600);
        assertThat(stop).contains(StopReason.DRAIN);
    }

    @Test
    void machine_withAnOpenProbe_goesOnByTheClockAndSaysReduced() {
        IceMachine machine = machine(Control.USUAL);
        machine.ailments().with(Ailment.EVAPORATOR_PROBE_OPEN, 1);
        machine.ailmentsChanged();
        run(machine, 3600);
        assertThat(machine.phase()).isEqualTo(Phase.REDUCED);
        assertThat(machine.takeReleasedKg()).isPositive();
    }

    @Test
    void cleaning_leftOn_lastsUntilSomebodyEndsIt() {
        IceMachine machine = machine(Control.USUAL);
        run(machine, 600);
        machine.ailments().with(Ailment.IN_CLEANING, 1);
        machine.ailmentsChanged();
        run(machine, 6 * 3600);
        assertThat(machine.phase()).isEqualTo(Phase.CLEAN);
        machine.ailments().with(Ailment.IN_CLEANING, 0);
        run(machine, 320);
        assertThat(machine.phase()).isEqualTo(Phase.FREEZE);
    }

    @Test
    void harvest_endedEarlyByALooseProbe_leavesIceOnThePlate() {
        // A probe in warm air ends the harvest before the ice is off: the controller can't know.
        IceMachine machine = machine(Control.USUAL.with(new FreezeEnd.Time(1200), new HarvestEnd.Temperature(6)));
        place.climate(35, 25);
        run(machine, 320 + 1190);
        double frozen = machine.iceKg();
        machine.ailments().with(Ailment.EVAPORATOR_CONTACT, 0.3);
        machine.ailmentsChanged();
        run(machine, 76);
        assertThat(machine.phase()).isEqualTo(Phase.FREEZE);
        assertThat(machine.iceKg()).isGreaterThan(0.9 * frozen);
    }

    private IceMachine machine(Control control) {
        Design design = Design.ofRating(50);
        return new IceMachine(design, control, DrainDesign.pump(design, 0), place, Noise.none(), this);
    }

    private void run(IceMachine machine, long seconds) {
        long until = now + seconds * 1000;
        while (now < until) {
            now += machine.step(now);
        }
    }

    @Override
    public void phase(long timeMillis, Phase phase) {
        phases.add(new Entered(timeMillis / 1000, phase));
    }

    @Override
    public void duration(long timeMillis, Channel channel, double seconds) {
        if (channel == Channel.FILL_TIME) {
            fills.add(seconds);
        }
    }

    @Override
    public void drainLevel(long timeMillis, boolean bridged) {}

    @Override
    public void stopped(long timeMillis, StopReason reason) {
        stop = Optional.of(reason);
    }
}
