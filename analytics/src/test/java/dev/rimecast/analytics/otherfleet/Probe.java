package dev.rimecast.analytics.otherfleet;

import java.util.SplittableRandom;

/** A thermometer: first-order lag, its own offset, noise, and steps of what its converter can tell apart. */
final class Probe {
    private final double lagSeconds;
    private final double offsetKelvin;
    private final double noiseKelvin;
    private final double quantumKelvin;
    private double celsius;

    Probe(double lagSeconds, double offsetKelvin, double noiseKelvin, double quantumKelvin, double celsius) {
        this.lagSeconds = lagSeconds;
        this.offsetKelvin = offsetKelvin;
        this.noiseKelvin = noiseKelvin;
        this.quantumKelvin = quantumKelvin;
        this.celsius = celsius;
    }

    void step(double seconds, double targetCelsius) {
        celsius += (targetCelsius - celsius) * Math.min(1, seconds / lagSeconds);
    }

    /** What it shows before noise and rounding. */
    double shown() {
        return celsius + offsetKelvin;
    }

    /** One reading. */
    double read(double shown, SplittableRandom random) {
        double noisy = shown + noiseKelvin * random.nextGaussian();
        return Math.round(Math.round(noisy / quantumKelvin) * quantumKelvin * 1000) / 1000.0;
    }
}
