package dev.rimecast.analytics.otherfleet;

import java.util.EnumMap;
import java.util.Map;
import java.util.Objects;

/**
 * What a small hermetic compressor moves and draws, tabulated over evaporating and condensing temperature: volumetric
 * efficiency of a reciprocating machine with 4 % dead space, overall efficiency a parabola in the pressure ratio with its
 * best near 4.5 (common practice: 0.45 to 0.50 for this size).
 */
final class CompressorMap {
    private static final double LOW_EVAPORATING = -50;
    private static final double HIGH_EVAPORATING = 34;
    private static final double LOW_CONDENSING = -10;
    private static final double HIGH_CONDENSING = 94;
    private static final double STEP = 1;
    private static final double SUCTION_SUPERHEAT_KELVIN = 20;
    private static final Map<Refrigerant, CompressorMap> MAPS = new EnumMap<>(Refrigerant.class);

    static {
        for (Refrigerant refrigerant : Refrigerant.values()) {
            MAPS.put(refrigerant, new CompressorMap(refrigerant));
        }
    }

    private final int columns = (int) ((HIGH_CONDENSING - LOW_CONDENSING) / STEP) + 1;
    private final int rows = (int) ((HIGH_EVAPORATING - LOW_EVAPORATING) / STEP) + 1;
    private final double[] kgPerSweptCubicMetre = new double[rows * columns];
    private final double[] workJoulePerKg = new double[rows * columns];
    private final double[] pascal = new double[160];
    private final double[] evaporatorEffect = new double[rows * columns];

    private CompressorMap(Refrigerant refrigerant) {
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                fill(refrigerant, row, column);
            }
        }
        for (int i = 0; i < pascal.length; i++) {
            pascal[i] = refrigerant.saturationPascal(LOW_EVAPORATING + i);
        }
    }

    static CompressorMap of(Refrigerant refrigerant) {
        return Objects.requireNonNull(MAPS.get(refrigerant));
    }

    private void fill(Refrigerant refrigerant, int row, int column) {
        double te = LOW_EVAPORATING + row * STEP;
        double tc = LOW_CONDENSING + column * STEP;
        double gas = te + SUCTION_SUPERHEAT_KELVIN;
        double ratio = Math.max(1.01, refrigerant.saturationPascal(tc) / refrigerant.saturationPascal(te));
        double volumetric = Math.max(0.02, 0.93 * (1 - 0.04 * (Math.pow(ratio, 1 / 1.12) - 1)));
        double overall = Math.max(0.25, 0.41 + ratio * (0.055 - 0.0062 * ratio));
        int at = row * columns + column;
        kgPerSweptCubicMetre[at] = volumetric / refrigerant.suctionVolume(te, gas);
        workJoulePerKg[at] = refrigerant.isentropicWork(te, gas, tc) / overall;
        evaporatorEffect[at] =
                Math.max(4e4, refrigerant.latentJoulePerKg(te) - refrigerant.liquidJoulePerKgKelvin * (tc - te));
    }

    /** Reads the map at a point; outside it, at its edge. */
    void read(double evaporatingCelsius, double condensingCelsius, OperatingPoint into) {
        double r = clamp((evaporatingCelsius - LOW_EVAPORATING) / STEP, rows);
        double c = clamp((condensingCelsius - LOW_CONDENSING) / STEP, columns);
        int row = (int) r;
        int column = (int) c;
        double fr = r - row;
        double fc = c - column;
        int at = row * columns + column;
        double w00 = (1 - fr) * (1 - fc);
        double w01 = (1 - fr) * fc;
        double w10 = fr * (1 - fc);
        double w11 = fr * fc;
        into.kgPerSweptCubicMetre = w00 * kgPerSweptCubicMetre[at]
                + w01 * kgPerSweptCubicMetre[at + 1]
                + w10 * kgPerSweptCubicMetre[at + columns]
                + w11 * kgPerSweptCubicMetre[at + columns + 1];
        into.workJoulePerKg = w00 * workJoulePerKg[at]
                + w01 * workJoulePerKg[at + 1]
                + w10 * workJoulePerKg[at + columns]
                + w11 * workJoulePerKg[at + columns + 1];
        into.effectJoulePerKg = w00 * evaporatorEffect[at]
                + w01 * evaporatorEffect[at + 1]
                + w10 * evaporatorEffect[at + columns]
                + w11 * evaporatorEffect[at + columns + 1];
    }

    /** Saturation pressure by table, Pa. */
    double pascal(double celsius) {
        double x = clamp(celsius - LOW_EVAPORATING, pascal.length);
        int i = (int) x;
        return pascal[i] + (x - i) * (pascal[i + 1] - pascal[i]);
    }

    private static double clamp(double x, int cells) {
        return Math.max(0, Math.min(cells - 1.001, x));
    }
}
