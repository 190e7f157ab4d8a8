package dev.rimecast.simulator.physics;

/** Compressor, condenser, fan and hot-gas valve. The condenser is one lump; the evaporator is the plate's. */
final class Circuit {
    /** What the circuit does. */
    enum Mode {
        COOLING,
        HOT_GAS,
        OFF
    }

    private static final double STILL_AIR_SHARE = 0.15;
    private static final double FAN_ON_CELSIUS = 35;
    private static final double FAN_OFF_CELSIUS = 30;

    private final Design design;
    private double condenser;
    private boolean fanOn = true;
    private double watts;

    private double conductance = 1;
    private double recirculation;
    private double nonCondensable;
    private double charge = 1;
    private double compressor = 1;
    private double leak;
    private double opening = 1;
    private double capacityNoise = 1;
    private double hotGasNoise = 1;
    private double airNoise = 1;

    Circuit(Design design, double celsius) {
        this.design = design;
        condenser = celsius;
    }

    void suffer(Ailments ailments) {
        conductance = ailments.get(Ailment.CONDENSER_CONDUCTANCE);
        recirculation = ailments.get(Ailment.RECIRCULATION_KELVIN);
        nonCondensable = ailments.get(Ailment.NON_CONDENSABLE_KELVIN);
        charge = ailments.get(Ailment.CHARGE);
        compressor = ailments.get(Ailment.COMPRESSOR) * ailments.get(Ailment.COMPRESSOR_STARTS);
        leak = ailments.get(Ailment.HOT_GAS_LEAK);
        opening = ailments.get(Ailment.HOT_GAS_OPENING);
    }

    void beginCycle(double capacity, double hotGas, double air) {
        capacityNoise = capacity;
        hotGasNoise = hotGas;
        airNoise = air;
    }

    /**
     * Steps the condenser.
     *
     * @return the heat that the circuit takes from the plate, negative where it heats it, W
     */
    double step(double dt, Mode mode, double plate, double roomCelsius, HeatLedger ledger) {
        double air = roomCelsius + recirculation;
        double taken = 0;
        double intoCondenser = 0;
        double compressorWatts = 0;
        if (mode != Mode.OFF && compressor > 0) {
            double condensing = condenser + nonCondensable;
            double pumped = pumpedWatts(plate, condensing);
            double lift = Math.max(5, condensing + 9 - plate);
            double cop = design.carnotShare() * (plate - 4 + 273.15) / lift;
            compressorWatts = pumped / cop;
            double gas = hotGasWatts(condensing);
            if (mode == Mode.COOLING) {
                taken = pumped * (1 - leak) - gas * leak;
            } else {
                // With the valve shut the compressor pumps against it: little flow, little cooling.
                taken = opening > 0.5 ? -gas * opening * hotGasNoise : 0.3 * pumped * (1 - opening);
            }
            intoCondenser = taken + compressorWatts;
        }
        double rejected = conductanceNow(mode) * (condenser - air);
        condenser += dt * (intoCondenser - rejected) / design.condenserHeat();
        ledger.workJoules += compressorWatts * dt;
        watts = compressorWatts + fanWatts(mode);
        ledger.auxiliaryJoules += fanWatts(mode) * dt;
        ledger.rejectedJoules += rejected * dt;
        return taken;
    }

    private double pumpedWatts(double evaporating, double condensing) {
        double fade = evaporating > -35 ? 1 : Math.max(0, (evaporating + 45) / 10);
        double byEvaporating = Math.min(1.6, StrictMath.exp(0.034 * (evaporating + 10)));
        double byCondensing = Math.max(0.2, 1 - 0.0105 * (condensing - 45));
        return design.capacityWatts() * byEvaporating * byCondensing * fade * charge * compressor * capacityNoise;
    }

    private double hotGasWatts(double condensing) {
        double byCondensing = Math.max(0.1, 0.55 + 0.0135 * (condensing - 20));
        return design.hotGasShare() * design.capacityWatts() * byCondensing * charge * compressor;
    }

    private boolean fanRuns(Mode mode) {
        if (mode != Mode.COOLING) {
            return false;
        }
        if (design.fanCycles()) {
            fanOn = fanOn ? condenser > FAN_OFF_CELSIUS : condenser > FAN_ON_CELSIUS;
            return fanOn;
        }
        return true;
    }

    private double conductanceNow(Mode mode) {
        double share = fanRuns(mode) ? conductance * airNoise : Math.min(conductance, STILL_AIR_SHARE);
        return design.condenserConductance() * share;
    }

    private double fanWatts(Mode mode) {
        return fanRuns(mode) ? design.fanWatts() : 0;
    }

    /** Temperature of the condenser's metal, °C. */
    double condenserCelsius() {
        return condenser;
    }

    /** Condensing temperature, °C. */
    double condensingCelsius() {
        return condenser + nonCondensable;
    }

    /** Power of compressor and fan in the last step, W. */
    double watts() {
        return watts;
    }
}
