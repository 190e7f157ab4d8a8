package dev.rimecast.analytics.fourthfleet;

/** One temperature probe: it lags, is off by a bias, and its gateway rounds. */
final class Probe {
    private static final double[] QUANTA = {.1, .0625, .25, .5, 1};
    private static final double[] QUANTA_UNTIL = {.45, .65, .8, .95, 1};

    private final double biasKelvin;
    private final double noiseKelvin;
    private final double quantumKelvin;
    private final double lagSeconds;
    double celsius;

    Probe(double biasKelvin, double noiseKelvin, double quantumKelvin, double lagSeconds, double celsius) {
        this.biasKelvin = biasKelvin;
        this.noiseKelvin = noiseKelvin;
        this.quantumKelvin = quantumKelvin;
        this.lagSeconds = lagSeconds;
        this.celsius = celsius;
    }

    /** Draws a bias with a few outliers, and one of the usual roundings. */
    static Probe draw(
            Chance chance,
            double deviation,
            double outlierShare,
            double outlier,
            double noise,
            double lag,
            double celsius) {
        double bias = chance.gauss(deviation);
        if (chance.hit(outlierShare)) {
            bias += chance.hit(.5) ? outlier : -outlier;
        }
        double u = chance.unit();
        int i = 0;
        while (i < QUANTA.length - 1 && u >= QUANTA_UNTIL[i]) {
            i++;
        }
        return new Probe(bias, noise, QUANTA[i], lag, celsius);
    }

    void second(double signalCelsius) {
        celsius += (signalCelsius - celsius) / lagSeconds;
    }

    /** The controller has been set up with a good part of the bias taken out. */
    double controlCelsius() {
        return celsius + biasKelvin * .3;
    }

    double read(Chance chance) {
        return rounded(celsius + biasKelvin + noiseKelvin * chance.gauss());
    }

    double rounded(double value) {
        double stepped = Math.round(value / quantumKelvin) * quantumKelvin;
        return Math.round(stepped * 100) / 100.0;
    }
}
