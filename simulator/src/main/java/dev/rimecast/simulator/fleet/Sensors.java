package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.physics.Noise;

/**
 * What probes add to the truth: a bias of their own for each machine, noise and a step. Deviations are plausible for
 * the trade (common practice): probes 0.3 K, ambient probes up to 2 K off, clamps 2 %.
 */
final class Sensors {
    private final Noise noise;
    private final double stepKelvin;
    private final double evaporatorBias;
    private final double condenserBias;
    private final double ambientBias;
    private final double waterBias;

    Sensors(Noise noise, double stepKelvin) {
        this.noise = noise;
        this.stepKelvin = stepKelvin;
        evaporatorBias = 0.3 * noise.normal();
        condenserBias = 0.4 * noise.normal();
        ambientBias = noise.uniform(-2, 2);
        waterBias = 0.4 * noise.normal();
    }

    double evaporator(double celsius) {
        return reading(celsius + evaporatorBias, 0.2);
    }

    double condenser(double celsius) {
        return reading(celsius + condenserBias, 0.25);
    }

    double ambient(double celsius) {
        return reading(celsius + ambientBias, 0.15);
    }

    double water(double celsius) {
        return reading(celsius + waterBias, 0.1);
    }

    double amperes(double watts) {
        double amperes = (watts / (230 * 0.92) + 0.08) * (1 + 0.02 * noise.normal());
        return tidy(StrictMath.round(amperes * 100) / 100.0);
    }

    private double reading(double celsius, double deviation) {
        double noisy = celsius + deviation * noise.normal();
        return tidy(StrictMath.rint(noisy / stepKelvin) * stepKelvin);
    }

    /** Without the digits of binary arithmetic, as a gateway would print it. */
    private static double tidy(double value) {
        return StrictMath.rint(value * 1000) / 1000 + 0.0;
    }
}
