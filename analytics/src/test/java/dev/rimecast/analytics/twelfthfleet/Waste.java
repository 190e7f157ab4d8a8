package dev.rimecast.analytics.twelfthfleet;

import dev.rimecast.telemetry.machine.Channel;
import java.util.List;
import java.util.Random;

/** Drain tank with level probes and a pump. */
final class Waste {
    private static final double SPAN_LITRES = 0.3;
    private static final double RATE = 0.17;
    private static final double NEVER = -1e18;

    private final Random random;
    private final double limitSeconds;
    private final double runOnSeconds;
    private final double pumpScatter;
    private double tank;
    private double arriving;
    private double busyUntil = NEVER;

    Waste(Random random, double limitSeconds, double runOnSeconds) {
        this.random = random;
        this.limitSeconds = limitSeconds;
        this.runOnSeconds = runOnSeconds;
        this.pumpScatter = 1 + 0.06 * random.nextGaussian();
    }

    void take(double kilograms) {
        arriving += kilograms;
    }

    /** True when the level signal lasted over the limit. */
    boolean step(double t, double dt, Ills ills, List<Told> told) {
        double in = Math.min(arriving, 0.05 * dt);
        arriving -= in;
        tank += in;
        if (t < busyUntil) {
            return false;
        }
        if (random.nextDouble() < ills.falseLevels * dt / 86_400) {
            return run(t, 0.4 + Place.exponential(random, 3), told);
        }
        if (tank < SPAN_LITRES) {
            return false;
        }
        tank -= SPAN_LITRES;
        double net = RATE * pumpScatter * ills.drain - Math.min(0.03, in / dt);
        double seconds = net < 0.01 ? 60 : SPAN_LITRES / net * (1 + 0.06 * random.nextGaussian());
        return run(t, seconds, told);
    }

    private boolean run(double t, double seconds, List<Told> told) {
        boolean over = seconds > limitSeconds;
        double lasted = Math.max(0.3, over ? limitSeconds + 0.2 : seconds);
        told.add(new Told(t, Channel.DRAIN_LEVEL, 1));
        busyUntil = t + lasted + runOnSeconds + 1;
        told.add(new Told(t + lasted, Channel.DRAIN_LEVEL, 0));
        told.add(new Told(t + lasted, Channel.DRAIN_LEVEL_TIME, lasted));
        told.add(new Told(t + lasted + runOnSeconds, Channel.DRAIN_RUN_TIME, lasted + runOnSeconds));
        return over;
    }
}
