package dev.rimecast.analytics.otherfleet;

import dev.rimecast.telemetry.machine.Channel;
import java.util.SplittableRandom;

/**
 * A small tank below the machine with two level probes and a pump. Water bridges the probes, the pump starts, and the signal
 * ends when the level is below the lower probe; the pump runs on for a moment. Common practice: a signal of 2 to 4 s.
 */
final class DrainTank {
    private static final double BETWEEN_PROBES_KG = 0.22;
    private static final double NEVER_SECONDS = 180;

    private final Wear wear;
    private final SplittableRandom random;
    private final double onKg;
    private final double pumpKgPerSecond;
    private final double runOnSeconds;
    private final double limitSeconds;
    private double waterKg;
    private double busyUntil;
    int overrunsInARow;

    DrainTank(Wear wear, double size, double runOnSeconds, double limitSeconds, SplittableRandom random) {
        this.wear = wear;
        this.random = random;
        this.onKg = 0.8 + 0.3 * size;
        this.pumpKgPerSecond = (0.09 + 0.09 * size) * (0.9 + 0.2 * random.nextDouble());
        this.runOnSeconds = runOnSeconds;
        this.limitSeconds = limitSeconds;
    }

    /** Water runs in; a run of the pump, if one falls due, is told at once with its times. */
    void step(double now, double seconds, double inKg, Happenings told) {
        waterKg += inKg;
        boolean bridged = waterKg >= onKg || (wear.probesFouled > 0 && foulSignal(seconds));
        if (!bridged || now < busyUntil) {
            return;
        }
        double signal = signalSeconds(inKg / seconds);
        double run = signal + runOnSeconds;
        told.flag(Channel.DRAIN_LEVEL, now, true);
        told.flag(Channel.DRAIN_LEVEL, now + signal, false);
        told.number(Channel.DRAIN_LEVEL_TIME, now + signal, signal);
        told.number(Channel.DRAIN_RUN_TIME, now + run, run);
        waterKg = Math.max(0, waterKg - run * pumpKgPerSecond * wear.drainFlow);
        waterKg = Math.min(waterKg, onKg);
        busyUntil = now + run + 1;
        overrunsInARow = signal > limitSeconds ? overrunsInARow + 1 : 0;
    }

    private boolean foulSignal(double seconds) {
        return random.nextDouble() < seconds * wear.probesFouled * wear.probesFouled / 900;
    }

    private double signalSeconds(double inKgPerSecond) {
        double noise = 1 + 0.05 * random.nextGaussian();
        double held = wear.probesFouled > 0 ? -Math.log(1 - random.nextDouble()) * 9 * wear.probesFouled : 0;
        double net = pumpKgPerSecond * wear.drainFlow * noise - inKgPerSecond;
        double seconds = net <= 0 ? NEVER_SECONDS : BETWEEN_PROBES_KG / net;
        return Math.round(10 * Math.min(NEVER_SECONDS, Math.max(0.5, seconds + held))) / 10.0;
    }
}
