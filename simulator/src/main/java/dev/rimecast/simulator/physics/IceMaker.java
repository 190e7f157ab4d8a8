package dev.rimecast.simulator.physics;

import static dev.rimecast.simulator.physics.Substance.FUSION;
import static dev.rimecast.simulator.physics.Substance.ICE_CONDUCTIVITY;
import static dev.rimecast.simulator.physics.Substance.ICE_DENSITY;
import static dev.rimecast.simulator.physics.Substance.ICE_HEAT;
import static dev.rimecast.simulator.physics.Substance.WATER_HEAT;

/**
 * Plate and sump of a batch machine, with its circuit: four lumps, evaporator plate, condenser, sump water, ice. The plate is
 * stepped implicitly in its own temperature, so that two-second steps are stable; every flow of heat enters both of
 * its sides once, so that the sums of {@link HeatLedger} close.
 */
final class IceMaker {
    private static final double ICE_RELEASES_AT_MELTED_SHARE = 0.06;
    private static final double PUMP_DRY_SHARE = 0.1;

    private final Design design;
    private final double iceResistancePerKg;
    private final Circuit circuit;
    final HeatLedger ledger = new HeatLedger();

    private double plate;
    private double sump;
    private double sumpKg;
    private double iceKg;
    private double meltedKg;
    private double iceAtHarvestKg;
    private double wasteKg;
    private double takenKg;
    private double releasedKg;
    private double watts;

    private double inletLeakKgPerSecond;
    private double lossKgPerSecond;
    private double circulation = 1;
    private double scaleFactor = 1;

    IceMaker(Design design, Surroundings place) {
        this.design = design;
        iceResistancePerKg = 1 / (ICE_DENSITY * design.plateArea() * ICE_CONDUCTIVITY * design.plateArea());
        circuit = new Circuit(design, place.airCelsius());
        plate = place.airCelsius();
        sump = place.mainsCelsius();
    }

    /** Sets plate and sump, °C and kg. */
    void begin(double plateCelsius, double sumpCelsius, double kg) {
        plate = plateCelsius;
        sump = sumpCelsius;
        sumpKg = kg;
    }

    void suffer(Ailments ailments) {
        circuit.suffer(ailments);
        inletLeakKgPerSecond = ailments.get(Ailment.INLET_LEAK) / 60 * design.scale();
        lossKgPerSecond = ailments.get(Ailment.WATER_LOSS) / 60 * design.scale();
        circulation = ailments.get(Ailment.CIRCULATION);
        scaleFactor = ailments.get(Ailment.SCALE);
    }

    /** No two cycles are alike: factors near 1 for the cycle that begins. */
    void beginCycle(double capacity, double hotGas, double air) {
        circuit.beginCycle(capacity, hotGas, air);
    }

    /** Somebody takes the ice off the plate and throws it away. */
    void clearPlate() {
        if (iceKg > 0) {
            release();
        }
    }

    void beginHarvest() {
        iceAtHarvestKg = iceKg;
        meltedKg = 0;
    }

    /**
     * One step.
     *
     * @param circulating whether the circulation pump runs
     * @param inletKgPerSecond through the open inlet valve
     */
    void step(double dt, Circuit.Mode mode, boolean circulating, double inletKgPerSecond, Surroundings place) {
        wasteKg = 0;
        takenKg = 0;
        releasedKg = 0;
        double gain = mode == Circuit.Mode.OFF ? place.restingCelsius() : place.airCelsius();
        double evaporatorWatts = circuit.step(dt, mode, plate, place.airCelsius(), ledger);
        watts = circuit.watts();
        double wet = circulating ? wetShare() : 0;
        if (mode == Circuit.Mode.HOT_GAS || wet <= 0) {
            thaw(dt, evaporatorWatts, gain);
        } else {
            freeze(dt, evaporatorWatts, gain, wet);
        }
        sumpWater(dt, circulating, inletKgPerSecond, place);
    }

    /** How much of the plate is wet: the pump draws air when the sump is nearly empty. */
    private double wetShare() {
        return Math.min(1, sumpKg / (PUMP_DRY_SHARE * design.sumpKg()));
    }

    private void freeze(double dt, double taken, double gainCelsius, double wet) {
        double wetWatts = design.wetConductance() * wet * circulation;
        double resistance = design.plateResistance() * scaleFactor;
        double toFace = wet / (resistance + meanIceKg(dt, resistance) * iceResistancePerKg);
        boolean frozen = iceKg > 0 || -plate * toFace > wetWatts * Math.max(0, sump);
        double conductanceToWater = frozen ? toFace : 1 / (resistance + 1 / Math.max(1e-6, wetWatts));
        double waterSide = frozen ? 0 : sump;
        double heat = plateHeat();
        plate = (heat / dt * plate + conductanceToWater * waterSide + design.plateGain() * gainCelsius - taken)
                / (heat / dt + conductanceToWater + design.plateGain());
        double fromFace = conductanceToWater * (waterSide - plate);
        ledger.gainedJoules += design.plateGain() * (gainCelsius - plate) * dt;
        double fromWater = fromFace;
        if (frozen) {
            fromWater = wetWatts * sump;
            double grown = Math.min((fromFace - fromWater) / FUSION * dt, sumpKg);
            grown = Math.max(grown, -iceKg);
            // What could not become ice or melt is taken from the water, so that nothing is lost.
            fromWater = fromFace - grown * FUSION / dt;
            growIce(grown);
        }
        cool(dt, fromWater);
    }

    /**
     * Ice through which the heat of a step goes: half of what grows in it included, by Plank's quadratic, so that the
     * first ice on a bare plate is right at any step.
     */
    private double meanIceKg(double dt, double resistance) {
        double through = resistance + iceKg * iceResistancePerKg;
        double drive = Math.max(0, -plate) * dt / FUSION;
        double root = StrictMath.sqrt(through * through + 2 * iceResistancePerKg * drive);
        return iceKg + (root - through) / iceResistancePerKg / 2;
    }

    private double plateHeat() {
        return design.plateHeat() + 0.5 * ICE_HEAT * iceKg;
    }

    /** Ice grows at 0 °C; the heat that the plate holds is then shared by more mass. */
    private void growIce(double kg) {
        double held = plateHeat() * plate;
        iceKg += kg;
        plate = held / plateHeat();
        sumpKg -= kg;
        // The water that left was at the sump's temperature; the ice came from water at 0 °C.
        sump = sumpKg > 1e-9 ? sump * (sumpKg + kg) / sumpKg : 0;
    }

    private void cool(double dt, double watts) {
        if (sumpKg > 1e-9) {
            sump -= watts * dt / (sumpKg * WATER_HEAT);
        }
    }

    private void thaw(double dt, double taken, double gainCelsius) {
        double melts = iceKg > 0 && plate > 0 ? 1 / (design.plateResistance() * scaleFactor) : 0;
        double heat = plateHeat();
        plate = (heat / dt * plate + design.plateGain() * gainCelsius - taken)
                / (heat / dt + design.plateGain() + melts);
        ledger.gainedJoules += design.plateGain() * (gainCelsius - plate) * dt;
        if (melts > 0) {
            double melted = Math.min(iceKg, melts * plate * dt / FUSION);
            plate += (melts * plate * dt - melted * FUSION) / heat;
            double held = plateHeat() * plate;
            iceKg -= melted;
            plate = held / plateHeat();
            meltedKg += melted;
            sump = sump * sumpKg / (sumpKg + melted);
            sumpKg += melted;
            if (iceKg > 0 && meltedKg >= releaseShare() * iceAtHarvestKg) {
                release();
            }
        }
    }

    /** Scale is rough and holds the ice for longer. */
    private double releaseShare() {
        return ICE_RELEASES_AT_MELTED_SHARE * (1 + 0.7 * (scaleFactor - 1));
    }

    private void release() {
        double held = plateHeat() * plate;
        releasedKg = iceKg;
        ledger.iceOutKg += iceKg;
        ledger.iceOutJoules -= iceKg * FUSION;
        iceKg = 0;
        iceAtHarvestKg = 0;
        plate = held / plateHeat();
    }

    private void sumpWater(double dt, boolean circulating, double inletKgPerSecond, Surroundings place) {
        double gained = sumpKg > 0 ? design.sumpGain() * (place.airCelsius() - sump) : 0;
        if (circulating && sumpKg > 0) {
            gained += design.pumpWatts();
            watts += design.pumpWatts();
            ledger.auxiliaryJoules += design.pumpWatts() * dt;
        }
        cool(dt, -gained);
        ledger.gainedJoules += sumpKg > 1e-9 ? gained * dt : 0;
        double in = (inletKgPerSecond + inletLeakKgPerSecond) * dt;
        if (in > 0) {
            takeIn(in, place.mainsCelsius());
        }
        if (lossKgPerSecond > 0) {
            drain(Math.min(sumpKg, lossKgPerSecond * dt));
        }
        // Ice that melts while the machine rests fills the sump to its rim, and no further.
        if (sumpKg > design.sumpKg()) {
            drain(sumpKg - design.sumpKg());
        }
    }

    private void takeIn(double kg, double celsius) {
        takenKg += kg;
        ledger.waterInKg += kg;
        ledger.waterInJoules += kg * WATER_HEAT * celsius;
        double mixed = Math.min(kg, Math.max(0, design.sumpKg() - sumpKg));
        if (mixed > 0) {
            sump = (sump * sumpKg + celsius * mixed) / (sumpKg + mixed);
            sumpKg += mixed;
        }
        double over = kg - mixed;
        if (over > 0) {
            // 0.6 of the flow mixes before it goes over the rim.
            double leaving = celsius + 0.6 * (sump - celsius);
            sump -= 0.6 * (sump - celsius) * over / sumpKg;
            waste(over, leaving);
        }
    }

    /** Lets water out of the sump. */
    void drain(double kg) {
        double out = Math.min(kg, sumpKg);
        if (out > 0) {
            sumpKg -= out;
            waste(out, sump);
        }
    }

    private void waste(double kg, double celsius) {
        wasteKg += kg;
        ledger.waterOutKg += kg;
        ledger.waterOutJoules += kg * WATER_HEAT * celsius;
    }

    /** Heat held against water and metal at 0 °C, J: for the balance over a cycle that does not close on itself. */
    double heldJoules() {
        return plateHeat() * plate
                + design.condenserHeat() * circuit.condenserCelsius()
                + sumpKg * WATER_HEAT * sump
                - iceKg * FUSION;
    }

    double plateCelsius() {
        return plate;
    }

    double condenserCelsius() {
        return circuit.condensingCelsius();
    }

    double sumpCelsius() {
        return sump;
    }

    double sumpKg() {
        return sumpKg;
    }

    double iceKg() {
        return iceKg;
    }

    /** Water that went down the drain in the last step, kg. */
    double wasteKg() {
        return wasteKg;
    }

    /** Ice that fell off the plate in the last step, kg. */
    double releasedKg() {
        return releasedKg;
    }

    /** Mains water taken in the last step, kg. */
    double takenKg() {
        return takenKg;
    }

    /** Electric power of compressor, fan and circulation pump, W. */
    double watts() {
        return watts;
    }
}
