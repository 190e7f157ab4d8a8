package dev.rimecast.analytics.otherfleet;

/**
 * A refrigerant, as far as a small circuit needs it. Saturation pressure by the ancillary equation
 * {@code p = pc exp((Tr/T) sum n_i theta^t_i)}, {@code theta = 1 - T/Tr}, with the coefficients of the open CoolProp fluid
 * files (R290 Lemmon 2009, R134a Tillner-Roth and Baehr 1994, R404A bubble Lemmon 2003). Latent heat is a parabola through
 * handbook values at -20, 0 and 40 °C (from memory, ASHRAE Fundamentals chapter 30), good to about 1 %.
 */
enum Refrigerant {
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
            new double[] {1.05, 1.084, 2.259, 4.287, 7.66, 18.584},
            new double[] {374.9e3, -1450, -6},
            2650,
            188.56,
            0.891,
            1.12),
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
            new double[] {0.845, 0.99, 1.14, 2.651, 4.507, 17.235},
            new double[] {198.6e3, -765, -3.1},
            1380,
            81.49,
            0.912,
            1.11),
    R404A(
            3_734_800,
            345.27,
            new double[] {0.061067, -6.5646, -3.6162, -3.9771},
            new double[] {0.54, 0.965, 3.7, 9.0},
            new double[] {165.5e3, -860, -7.5},
            1450,
            85.2,
            0.855,
            1.11);

    private static final double KELVIN = 273.15;

    private final double criticalPascal;
    private final double reducingKelvin;
    private final double[] factors;
    private final double[] exponents;
    private final double[] latent;
    final double liquidJoulePerKgKelvin;
    private final double gasConstant;
    private final double compressibilityAtZero;
    private final double isentropicExponent;

    Refrigerant(
            double criticalPascal,
            double reducingKelvin,
            double[] factors,
            double[] exponents,
            double[] latent,
            double liquidJoulePerKgKelvin,
            double gasConstant,
            double compressibilityAtZero,
            double isentropicExponent) {
        this.criticalPascal = criticalPascal;
        this.reducingKelvin = reducingKelvin;
        this.factors = factors;
        this.exponents = exponents;
        this.latent = latent;
        this.liquidJoulePerKgKelvin = liquidJoulePerKgKelvin;
        this.gasConstant = gasConstant;
        this.compressibilityAtZero = compressibilityAtZero;
        this.isentropicExponent = isentropicExponent;
    }

    /** Saturation pressure, Pa; above the critical point that of the critical point. */
    double saturationPascal(double celsius) {
        double kelvin = Math.min(celsius + KELVIN, reducingKelvin - 0.1);
        double theta = 1 - kelvin / reducingKelvin;
        double sum = 0;
        for (int i = 0; i < factors.length; i++) {
            sum += factors[i] * Math.pow(theta, exponents[i]);
        }
        return criticalPascal * Math.exp(reducingKelvin / kelvin * sum);
    }

    double latentJoulePerKg(double celsius) {
        return latent[0] + celsius * (latent[1] + celsius * latent[2]);
    }

    /** Specific volume of the suction gas, m3/kg: ideal gas with a compressibility that grows with pressure. */
    double suctionVolume(double evaporatingCelsius, double gasCelsius) {
        double pascal = saturationPascal(evaporatingCelsius);
        double z = 1 - (1 - compressibilityAtZero) * Math.pow(pascal / saturationPascal(0), 0.6);
        return z * gasConstant * (gasCelsius + KELVIN) / pascal;
    }

    /** Work of an isentropic compression between two saturation temperatures, J/kg. */
    double isentropicWork(double evaporatingCelsius, double gasCelsius, double condensingCelsius) {
        double low = saturationPascal(evaporatingCelsius);
        double ratio = Math.max(1.01, saturationPascal(condensingCelsius) / low);
        double k = isentropicExponent;
        return k / (k - 1) * low * suctionVolume(evaporatingCelsius, gasCelsius) * (Math.pow(ratio, (k - 1) / k) - 1);
    }
}
