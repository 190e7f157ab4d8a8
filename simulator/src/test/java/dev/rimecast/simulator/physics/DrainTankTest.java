package dev.rimecast.simulator.physics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Times by hand: volume between the probes over pump flow less inflow. */
class DrainTankTest implements MachineEvents {
    private final List<Long> edges = new ArrayList<>();
    private final List<Double> levelTimes = new ArrayList<>();
    private final List<Double> runTimes = new ArrayList<>();

    @Test
    void pump_againstAnEvenInflow_runsAsLongAsTheVolumeTakes() {
        DrainTank tank = new DrainTank(new DrainDesign(true, 1.1, 0.2, 0.35, 0, 0), this);
        feed(tank, 100, 0.05);
        // First rise: 1.1 kg at 0.05 kg/s, 22 s; run: 0.9 kg at 0.30 kg/s, 3 s; then 18 s and 3 s by turns.
        assertThat(edges.subList(0, 4)).containsExactly(22_000L, 25_000L, 43_000L, 46_000L);
        assertThat(levelTimes).allSatisfy(s -> assertThat(s).isCloseTo(3, within(0.001)));
        assertThat(runTimes).hasSameSizeAs(levelTimes);
    }

    @Test
    void pump_withRunOn_runsLongerThanTheSignal() {
        DrainTank tank = new DrainTank(new DrainDesign(true, 1.1, 0.2, 0.35, 4, 0), this);
        feed(tank, 30, 0.05);
        feed(tank, 10, 0);
        assertThat(levelTimes.get(0)).isCloseTo(3, within(0.001));
        assertThat(runTimes.get(0)).isCloseTo(7, within(0.001));
    }

    @Test
    void blockedDrain_slowsThePump() {
        DrainTank tank = new DrainTank(new DrainDesign(true, 1.1, 0.2, 0.35, 0, 0), this);
        tank.suffer(new Ailments().with(Ailment.DRAIN_FLOW, 0.5));
        feed(tank, 40, 0.05);
        // 0.9 kg at 0.125 kg/s.
        assertThat(levelTimes.get(0)).isCloseTo(7.2, within(0.001));
    }

    @Test
    void fouledProbes_holdTheSignalAfterTheWaterHasGone() {
        DrainTank tank = new DrainTank(new DrainDesign(true, 1.1, 0.2, 0.35, 0, 0), this);
        tank.suffer(new Ailments().with(Ailment.LEVEL_PROBE_HOLD, 5));
        feed(tank, 40, 0.05);
        assertThat(levelTimes.get(0)).isCloseTo(8, within(0.001));
    }

    @Test
    void failedPump_leavesTheSignalOn() {
        DrainTank tank = new DrainTank(new DrainDesign(true, 1.1, 0.2, 0.35, 0, 0), this);
        tank.suffer(new Ailments().with(Ailment.DRAIN_PUMP_RUNS, 0));
        feed(tank, 60, 0.05);
        assertThat(edges).containsExactly(22_000L);
        assertThat(tank.signalSeconds()).isCloseTo(38, within(0.001));
    }

    private void feed(DrainTank tank, int seconds, double kgPerSecond) {
        long begin = clock;
        for (; clock < begin + seconds * 1000L; clock += 2000) {
            tank.step(clock, 2, 2 * kgPerSecond);
        }
    }

    private long clock;

    @Override
    public void phase(long timeMillis, Phase phase) {}

    @Override
    public void duration(long timeMillis, Channel channel, double seconds) {
        (channel == Channel.DRAIN_LEVEL_TIME ? levelTimes : runTimes).add(seconds);
    }

    @Override
    public void drainLevel(long timeMillis, boolean bridged) {
        edges.add(timeMillis);
    }

    @Override
    public void stopped(long timeMillis, StopReason reason) {}
}
