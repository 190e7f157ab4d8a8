package dev.rimecast.simulator.physics;

/** A temperature probe: what it reads comes after what it touches, by a first-order lag. Noise is the gateway's. */
final class Probe {
    private final double lagSeconds;
    private double celsius;
    private double before;
    private double factorSeconds = -1;
    private double factor;

    Probe(double lagSeconds, double celsius) {
        this.lagSeconds = lagSeconds;
        this.celsius = celsius;
        before = celsius;
    }

    void follow(double dt, double target) {
        if (factorSeconds != dt) {
            factor = 1 - StrictMath.exp(-dt / lagSeconds);
            factorSeconds = dt;
        }
        before = celsius;
        celsius += factor * (target - celsius);
    }

    void hold() {
        before = celsius;
    }

    double celsius() {
        return celsius;
    }

    /** Which share of the last step had passed when the reading went through {@code level}; 1 if it did not move. */
    double shareAt(double level) {
        double moved = celsius - before;
        return moved == 0 ? 1 : Math.max(0, Math.min(1, (level - before) / moved));
    }
}
