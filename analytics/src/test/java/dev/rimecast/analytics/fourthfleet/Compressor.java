package dev.rimecast.analytics.fourthfleet;

/**
 * A compressor from a saturation curve: the pressure ratio gives volumetric efficiency and work, so that capacity and current
 * follow both temperatures. Handbook physics (a curve of Clausius and Clapeyron, a straight line for the volumetric
 * efficiency, polytropic work) with common practice's numbers.
 */
final class Compressor {
    /** Slope of the logarithm of pressure over 1/T, K. */
    private static final double CURVE_KELVIN = 2276;

    private static final double KELVIN = 273.15;
    private static final double RATED_EVAPORATING = 263.15;
    private static final double RATED_CONDENSING = 318.15;
    private static final double RATED_RATIO =
            Math.exp(CURVE_KELVIN / RATED_EVAPORATING - CURVE_KELVIN / RATED_CONDENSING);
    private static final double RATED_PRESSURE = Math.exp(-CURVE_KELVIN / RATED_EVAPORATING);
    private static final double EXPONENT = 0.12;
    private static final double RATED_WORK = Math.pow(RATED_RATIO, EXPONENT) - 1;
    private static final double MOST_FLOW = 1.24;

    private final Traits traits;
    private final Ailment ailment;
    private final CycleScatter cycle;
    /** Taken from the evaporator, W. */
    double coolingWatt;
    /** Given to the condenser, W; negative while hot gas draws on its store. */
    double rejectedWatt;
    /** Given to the plate by hot gas, W. */
    double hotGasWatt;
    /** Drawn, W. */
    double workWatt;

    Compressor(Traits traits, Ailment ailment, CycleScatter cycle) {
        this.traits = traits;
        this.ailment = ailment;
        this.cycle = cycle;
    }

    void rest() {
        coolingWatt = 0;
        rejectedWatt = 0;
        hotGasWatt = 0;
        workWatt = 0;
    }

    private static double volumetric(double ratio) {
        return Math.max(.25, .96 - .030 * (ratio - 1));
    }

    void freeze(double evaporatingCelsius, double condensingCelsius) {
        double evaporating = evaporatingCelsius + KELVIN;
        double pressure = Math.exp(-CURVE_KELVIN / evaporating);
        double ratio = Math.max(1.2, Math.exp(-CURVE_KELVIN / (condensingCelsius + KELVIN)) / pressure);
        double flow = Math.min(
                MOST_FLOW,
                pressure
                        / RATED_PRESSURE
                        * (RATED_EVAPORATING / evaporating)
                        * volumetric(ratio)
                        / volumetric(RATED_RATIO));
        double share = capacityShare();
        double perFlow = 1 - .0078 * (condensingCelsius - 45) + .002 * (evaporatingCelsius + 10);
        double capacity = traits.capacityWatt * cycle.capacity * share * flow * perFlow;
        boolean weak = ailment.is(FaultKind.COMPRESSOR_WEAK);
        double work = traits.workWatt
                * flow
                * (weak ? 1 - .4 * ailment.of(FaultKind.COMPRESSOR_WEAK) : share)
                * (Math.exp(EXPONENT * Math.log(ratio)) - 1)
                / RATED_WORK;
        workWatt = Math.max(work, traits.workWatt * .3);
        double bypass = ailment.of(FaultKind.HOT_GAS_VALVE_LEAKING);
        coolingWatt = capacity * (1 - 1.15 * bypass) - bypass * .18 * traits.capacityWatt;
        rejectedWatt = (capacity + workWatt) * (1 - bypass);
        hotGasWatt = 0;
    }

    private double capacityShare() {
        return 1
                - .75 * ailment.of(FaultKind.LOW_CHARGE)
                - ailment.of(FaultKind.COMPRESSOR_WEAK)
                - .7 * ailment.of(FaultKind.REFRIGERANT_RESTRICTION);
    }

    /** What is left of the evaporator's wetted surface. */
    double wettedShare() {
        return 1 - 1.1 * ailment.of(FaultKind.LOW_CHARGE) - 1.2 * ailment.of(FaultKind.REFRIGERANT_RESTRICTION);
    }

    /** Hot gas: the work and the heat stored in the condenser go to the plate. */
    void hotGas(double condensingCelsius, double plateCelsius) {
        coolingWatt = 0;
        workWatt = traits.workWatt * .9 * (.62 + .011 * (condensingCelsius - 20));
        if (ailment.is(FaultKind.HOT_GAS_VALVE_NOT_OPENING)) {
            hotGasWatt = 0;
            rejectedWatt = workWatt * 1.2;
            return;
        }
        double share = 1 - .85 * ailment.of(FaultKind.LOW_CHARGE) - .65 * ailment.of(FaultKind.COMPRESSOR_WEAK);
        double stored = 6.6 * traits.size * Math.max(0, condensingCelsius + 14);
        double reach = Math.min(1, Math.max(0, (condensingCelsius + 15 - plateCelsius) / 20));
        hotGasWatt = (workWatt * .85 + stored) * share * reach;
        rejectedWatt = -stored * share * .5;
    }
}
