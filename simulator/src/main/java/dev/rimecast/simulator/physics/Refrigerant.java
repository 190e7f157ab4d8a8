package dev.rimecast.simulator.physics;

import java.util.Optional;

/**
 * Saturation pressure by the ancillary equation p = pc exp(Tr/T · Σ nᵢ θ^tᵢ), θ = 1 − T/Tr. Coefficients are those of
 * the open CoolProp fluid files, fitted to the reference equations of state (R290 Lemmon 2009, R134a Tillner-Roth and
 * Baehr 1994, R404A Lemmon 2003, R600a Buecker and Wagner 2006). Stated error of the fits: R290 0.016 %, R134a 0.009 %,
 * R600a 0.020 %; R404A about 0.1 % against tables.
 */
public enum Refrigerant {
    R290(
            4_251_200,
            369.89,
            new double[] {
                -23.998635747391152,
                18.313017605233238,
                -0.42240851966839504,
                -2.7378298813798962,
                0.257888414168987,
                -1.3113462226130785
            },
            new double[] {1.05, 1.084, 2.259, 4.287, 7.66, 18.584}),
    R134A(
            4_059_280,
            374.21,
            new double[] {
                0.4331478287291047,
                -9.090302559074352,
                2.1476074125217703,
                -1.557687007603464,
                -3.5020328972698604,
                14.958442337201044
            },
            new double[] {0.845, 0.99, 1.14, 2.651, 4.507, 17.235}),
    /** Bubble point. */
    R404A(3_734_800, 345.27, new double[] {0.061067, -6.5646, -3.6162, -3.9771}, new double[] {0.54, 0.965, 3.7, 9.0}),
    R600A(
            3_629_000,
            407.817,
            new double[] {
                -48.02915589537987,
                43.34653680580028,
                -1.4421317283854331,
                -3.1322275225078413,
                5.203481182010376,
                -6.173022897817098
            },
            new double[] {1.082, 1.108, 1.463, 4.045, 13.157, 14.042});

    private final double criticalPascal;
    private final double reducingKelvin;

    @SuppressWarnings("ImmutableEnumChecker") // never written, never handed out
    private final double[] factors;

    @SuppressWarnings("ImmutableEnumChecker") // never written, never handed out
    private final double[] exponents;

    Refrigerant(double criticalPascal, double reducingKelvin, double[] factors, double[] exponents) {
        this.criticalPascal = criticalPascal;
        this.reducingKelvin = reducingKelvin;
        this.factors = factors;
        this.exponents = exponents;
    }

    /** The ASHRAE 34 designation, e.g. {@code R600a}. */
    public String designation() {
        return this == R600A ? "R600a" : this == R134A ? "R134a" : name();
    }

    public static Optional<Refrigerant> ofDesignation(String designation) {
        for (Refrigerant refrigerant : values()) {
            if (refrigerant.designation().equalsIgnoreCase(designation)) {
                return Optional.of(refrigerant);
            }
        }
        return Optional.empty();
    }

    /**
     * Saturation pressure, kPa absolute.
     *
     * @throws IllegalArgumentException at or above the critical temperature
     */
    public double saturationKilopascal(double celsius) {
        double kelvin = celsius + 273.15;
        double theta = 1 - kelvin / reducingKelvin;
        if (!(theta > 0) || !(kelvin > 0)) {
            throw new IllegalArgumentException(designation() + " has no saturation pressure at " + celsius + " °C");
        }
        double sum = 0;
        for (int i = 0; i < factors.length; i++) {
            sum += factors[i] * StrictMath.pow(theta, exponents[i]);
        }
        return criticalPascal * StrictMath.exp(reducingKelvin / kelvin * sum) / 1000;
    }

    /** Saturation temperature, °C, by bisection to 1 mK between −60 °C and just under the critical point. */
    public double saturationCelsius(double kilopascal) {
        double low = -60;
        double high = reducingKelvin - 273.15 - 0.01;
        if (kilopascal < saturationKilopascal(low) || kilopascal > saturationKilopascal(high)) {
            throw new IllegalArgumentException(designation() + ": " + kilopascal + " kPa is out of range");
        }
        while (high - low > 0.001) {
            double middle = (low + high) / 2;
            if (saturationKilopascal(middle) < kilopascal) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }
}
