package dev.rimecast.analytics.twelfthfleet;

/** Saturated propane (R290): pressure, density and what a kilogram carries. */
final class Propane {
    private static final double CRITICAL_PA = 4_251_200;
    private static final double REDUCING_K = 369.89;
    private static final double[] N = {
        -23.998635747391152,
        18.313017605233238,
        -0.42240851966839504,
        -2.7378298813798962,
        0.257888414168987,
        -1.3113462226130785
    };
    private static final double[] T = {1.05, 1.084, 2.259, 4.287, 7.66, 18.584};
    private static final double LOWEST_C = -60;
    private static final double HIGHEST_C = 94;
    private static final double[] TABLE = table();

    private Propane() {}

    private static double[] table() {
        double[] pressures = new double[(int) (10 * (HIGHEST_C - LOWEST_C)) + 2];
        for (int i = 0; i < pressures.length; i++) {
            pressures[i] = exactPa(LOWEST_C + i / 10.0);
        }
        return pressures;
    }

    /** Ancillary equation p = pc exp(Tr/T sum n theta^t), Pa. */
    static double exactPa(double celsius) {
        double kelvin = Math.min(celsius + 273.15, REDUCING_K - 0.01);
        double theta = 1 - kelvin / REDUCING_K;
        double sum = 0;
        for (int i = 0; i < N.length; i++) {
            sum += N[i] * Math.pow(theta, T[i]);
        }
        return CRITICAL_PA * Math.exp(REDUCING_K / kelvin * sum);
    }

    /** The same from a table in steps of 0.1 K, Pa. */
    static double pressurePa(double celsius) {
        double place = 10 * (Math.max(LOWEST_C, Math.min(HIGHEST_C, celsius)) - LOWEST_C);
        int i = (int) place;
        return TABLE[i] + (place - i) * (TABLE[i + 1] - TABLE[i]);
    }

    /** Saturated vapour, kg/m³; compressibility falls by 0.023 a bar (from memory of tables: 10.3 kg/m³ at 0 °C). */
    static double vapourDensity(double celsius) {
        double pa = pressurePa(celsius);
        double compressibility = Math.max(0.6, 1 - 0.023e-5 * pa);
        return pa * 0.0441 / (8.314 * (celsius + 273.15) * compressibility);
    }

    /** Cold that a kilogram brings, from liquid at one temperature to vapour at the other, J/kg (from memory of tables). */
    static double effect(double evaporating, double condensing) {
        return 1000 * (257 + 1.1 * (evaporating + 10) - 2.8 * (condensing - 40));
    }
}
