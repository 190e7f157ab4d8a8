package dev.rimecast.analytics.otherfleet;

/**
 * A machine as differential equations, one step of a second or two at a time: vapour in the evaporator (first order in its
 * saturation temperature), liquid on both sides of the expansion, plate, a growing layer of ice after Stefan, sump and
 * condenser. Energy and refrigerant mass are kept: what the compressor moves is what boils off, and a starved evaporator
 * wets less of its surface.
 */
final class Plant {
    static final double FUSION_JOULE_PER_KG = 333_550;
    static final double ICE_WATT_PER_METRE_KELVIN = 2.22;
    static final double ICE_KG_PER_CUBIC_METRE = 917;
    private static final double ICE_JOULE_PER_KG_KELVIN = 2050;
    private static final double STORE_CELSIUS = 2;
    private static final double COLD_OF_STORE = 0.55;
    private static final double SEAL_SHARE = 0.6;
    private static final double MOST_LIQUID_SHARE = 1.15;
    /** Hot gas holds back most of what a capillary would pass. */
    private static final double PAST_HOT_GAS = 0.3;

    private static final double SHELL_LOSS = 0.3;
    private static final double SHELL_JOULE_PER_KELVIN = 3600;
    private static final double SHELL_TO_ROOM_WATT_PER_KELVIN = 1.3;
    private static final double SHELL_TO_HOT_GAS_WATT_PER_KELVIN = 6;
    private static final double RINSE_EFFECT = 0.15;
    private static final double NUCLEATION_CELSIUS = -1.2;
    private static final double NOMINAL_ROOT_PASCAL = 1050;

    final Design design;
    final Wear wear;
    final CondenserSide condenser;
    final Sump sump;
    private final CompressorMap map;
    private final OperatingPoint point = new OperatingPoint();
    double evaporatingCelsius;
    double plateCelsius;
    /** The compressor's iron, which gives a good part of a harvest's heat. */
    double shellCelsius;

    double iceKg;
    double liquidKg;
    double watt;
    double energyJoule;
    /** Heat that the refrigerant has taken from the plate, less what hot gas has given back. */
    double extractedJoule;
    /** This cycle's spray, and how firmly this batch sticks: no two batches are alike. */
    double sprayOfCycle = 1;

    double meltShareOfCycle = 0.055;
    boolean iceCannotFall;
    /** How much the store below cools the evaporator's compartment, 0 to 1. */
    double iceBelow;

    double compartmentCelsius;
    private double meltedKg;
    private double releasedKg;

    Plant(Design design, Wear wear, Surroundings around) {
        this.design = design;
        this.wear = wear;
        this.map = CompressorMap.of(design.model().refrigerant());
        this.condenser = new CondenserSide(design, wear, around.roomCelsius);
        this.sump = new Sump(design, wear, around.mainsCelsius);
        this.evaporatingCelsius = around.roomCelsius;
        this.plateCelsius = around.roomCelsius;
        this.shellCelsius = around.roomCelsius;
        this.compartmentCelsius = around.roomCelsius;
        this.liquidKg = 0.6 * design.evaporatorFullKg();
    }

    /** Share of the evaporator's surface that is wetted by liquid. */
    double wetted() {
        return Math.min(1, liquidKg / (0.8 * design.evaporatorFullKg()));
    }

    void step(double seconds, Actuators on, Surroundings around) {
        sump.flow(seconds, on.inlet, on.dump, on.circulation, around);
        double toRefrigerant =
                on.compressor && !wear.compressorDead ? circulate(seconds, on, around) : rest(seconds, around);
        extractedJoule += seconds * toRefrigerant;
        double fromWater = on.circulation ? freeze(seconds) : 0;
        double intoMelt = on.circulation ? 0 : melt(seconds);
        double capacity = design.plateJoulePerKelvin() + 0.5 * iceKg * ICE_JOULE_PER_KG_KELVIN;
        double open = 0.6 * around.roomCelsius + 0.4 * sump.waterCelsius;
        compartmentCelsius = open + COLD_OF_STORE * iceBelow * (STORE_CELSIUS - open);
        double gain = 1.4 * design.size() * (compartmentCelsius - plateCelsius)
                + (on.inlet && !on.circulation ? rinse(around) : 0);
        plateCelsius += seconds * (fromWater - intoMelt - toRefrigerant + gain) / capacity;
        double pumpHeat = on.circulation ? 0.5 * design.pumpWatt() : 0;
        sump.heat(seconds
                * (pumpHeat
                        - (iceKg > 0 ? 0 : fromWater)
                        + 2.0 * design.size() * (around.roomCelsius - sump.waterCelsius)));
        watt += 4 + (on.circulation ? design.pumpWatt() : 0) + (on.fan && !wear.fanDead ? design.fanWatt() : 0);
        energyJoule += watt * seconds;
    }

    /** Fresh water runs over the plate while ice falls, W. */
    private double rinse(Surroundings around) {
        double kgPerSecond = design.fillKgPerSecond() * Math.sqrt(wear.supplyPressure);
        return RINSE_EFFECT * kgPerSecond * Sump.WATER_JOULE_PER_KG_KELVIN * (sump.pipeCelsius - plateCelsius);
    }

    private double circulate(double seconds, Actuators on, Surroundings around) {
        double te = evaporatingCelsius;
        double tc = condenser.condensingCelsius;
        double pressureCelsius = tc + wear.airKelvin;
        map.read(te, pressureCelsius, point);
        double swept = design.sweptCubicMetrePerSecond() * wear.volumetric * around.voltage;
        double moved = swept * point.kgPerSweptCubicMetre;
        double work = point.workJoulePerKg * wear.compressorWork;
        double highPascal = map.pascal(pressureCelsius);
        double drop = Math.max(1e4, highPascal - map.pascal(te));
        double root = Math.sqrt(drop) / NOMINAL_ROOT_PASCAL;
        double behind = Math.max(0, charge() - liquidKg);
        double sealed = 1 - Math.exp(-behind / (SEAL_SHARE * design.evaporatorFullKg()));
        double subcooling = 8 * Math.min(1, behind / (1.2 * design.evaporatorFullKg()));
        double effect = point.effectJoulePerKg + subcooling * design.model().refrigerant().liquidJoulePerKgKelvin;

        double opening = on.hotGas ? wear.hotGasOpening : wear.hotGasLeak;
        double hotGas = opening * design.hotGasKgPerSecond() * root * Math.sqrt(highPascal / 1.45e6);
        hotGas = Math.min(hotGas, moved + behind / 25);
        double fed = on.hotGas && design.model().expansion() == Model.Expansion.VALVE
                ? 0
                : feed(root * sealed * (on.hotGas ? PAST_HOT_GAS : 1), moved - hotGas, seconds);
        double wet = te > plateCelsius ? 1 : wetted();
        double conductance = design.refrigerantSideWattPerKelvin() * wet;
        double hotGasWatt = hotGas * (effect + (1 - SHELL_LOSS) * work);
        double fromShell = on.hotGas ? SHELL_TO_HOT_GAS_WATT_PER_KELVIN * design.size() * (shellCelsius - te) : 0;
        double drawn = moved * effect - fromShell;
        double slope = 0.034 * moved * effect;
        double capacity = design.refrigerantJoulePerKelvin() / seconds;
        double next = (capacity * te + conductance * plateCelsius + hotGasWatt - drawn + slope * te)
                / (capacity + conductance + slope);
        evaporatingCelsius = Math.max(-48, Math.min(33, next));
        liquidKg = Math.max(0, Math.min(mostLiquid(), liquidKg + seconds * (fed + hotGas - moved)));
        double flooded = Math.max(0, Math.min(0.75, 0.22 * (behind / design.evaporatorFullKg() - roomBehind())));
        condenser.step(
                seconds, (moved - hotGas) * (effect + (1 - SHELL_LOSS) * work), on.fan, around.roomCelsius, flooded);
        watt = moved * work;
        warmShell(seconds, SHELL_LOSS * watt - fromShell, around);
        return conductance * (plateCelsius - evaporatingCelsius);
    }

    /** What the expansion device lets through, kg/s. */
    private double feed(double drive, double boiled, double seconds) {
        double most = design.feedKgPerSecond() * wear.feed * drive;
        if (design.model().expansion() == Model.Expansion.CAPILLARY) {
            return most;
        }
        double wanted = boiled + (0.9 * design.evaporatorFullKg() - liquidKg) / Math.max(15, seconds);
        return Math.max(0, Math.min(most, wanted));
    }

    /** Liquid that fits behind the condenser before it drowns the coil, in fillings of the evaporator. */
    private double roomBehind() {
        return design.model().expansion() == Model.Expansion.VALVE ? 1.0 : 0.65;
    }

    /** More does not fit into the evaporator; it boils off in the suction line, and the rest stays on the high side. */
    private double mostLiquid() {
        return Math.min(charge(), MOST_LIQUID_SHARE * design.evaporatorFullKg());
    }

    private double charge() {
        return design.chargeKg() * wear.charge;
    }

    private void warmShell(double seconds, double heatWatt, Surroundings around) {
        double size = design.size();
        double lost = SHELL_TO_ROOM_WATT_PER_KELVIN * size * (shellCelsius - around.roomCelsius);
        shellCelsius += seconds * (heatWatt - lost) / (SHELL_JOULE_PER_KELVIN * size);
    }

    private double rest(double seconds, Surroundings around) {
        watt = 0;
        warmShell(seconds, 0, around);
        evaporatingCelsius += (plateCelsius - evaporatingCelsius) * Math.min(1, seconds / 40);
        if (design.model().expansion() == Model.Expansion.CAPILLARY) {
            liquidKg += (0.5 * charge() - liquidKg) * Math.min(1, seconds / 150);
        }
        condenser.step(seconds, 0, false, around.roomCelsius, 0);
        return 0;
    }

    /** Heat from water and new ice into the plate, W. */
    private double freeze(double seconds) {
        double draws = sump.pumpDraws();
        double film =
                design.waterSideWattPerKelvin() * Math.pow(wear.waterFlow, 0.8) * wear.coverage * sprayOfCycle * draws;
        double contact = design.contactKelvinPerWatt() * (1 + wear.scale) / wear.coverage;
        if (film <= 0 || draws < 0.02) {
            return 0;
        }
        if (iceKg <= 0 && (plateCelsius > NUCLEATION_CELSIUS || sump.waterCelsius > 12)) {
            return (sump.waterCelsius - plateCelsius) / (contact + 1 / film);
        }
        double conducted = -plateCelsius / (contact + iceResistance());
        double convected = film * Math.max(0, sump.waterCelsius);
        double grown = seconds * (conducted - convected) / FUSION_JOULE_PER_KG;
        grown = Math.max(-iceKg, Math.min(grown, sump.waterKg));
        iceKg += grown;
        sump.waterKg -= grown;
        sump.heat(-seconds * convected);
        return iceKg > 0 ? conducted : 0;
    }

    /** Conduction through the layer, K/W: slab whose surface grows or shrinks with its thickness. */
    private double iceResistance() {
        double area = design.iceAreaSquareMetre() * wear.coverage;
        double thickness = iceThickness();
        double mean = area * Math.max(0.3, 1 + design.model().iceAreaGrowth() * thickness / 0.02);
        return thickness / (ICE_WATT_PER_METRE_KELVIN * mean);
    }

    double iceThickness() {
        double flat = iceKg / (ICE_KG_PER_CUBIC_METRE * design.iceAreaSquareMetre() * wear.coverage);
        return flat / Math.max(0.3, 1 + design.model().iceAreaGrowth() * flat / 0.02);
    }

    private double melt(double seconds) {
        if (iceKg <= 0 || plateCelsius <= 0) {
            return 0;
        }
        double q = plateCelsius / (0.6 * design.contactKelvinPerWatt() * (1 + wear.scale));
        q = Math.min(q, plateCelsius * design.plateJoulePerKelvin() / seconds * 0.5);
        meltedKg += seconds * q / FUSION_JOULE_PER_KG;
        if (meltedKg >= meltShareOfCycle * (1 + 0.35 * wear.scale) * (iceCannotFall ? 6 : 1) * design.batchKg()
                || meltedKg >= iceKg) {
            releasedKg += Math.max(0, iceKg - meltedKg);
            iceKg = 0;
            meltedKg = 0;
        }
        return q;
    }

    /** What is left on the plate freezes on again. */
    void harvestEnds() {
        meltedKg = 0;
    }

    /** Ice that has fallen since last asked, kg. */
    double takeReleased() {
        double kg = releasedKg;
        releasedKg = 0;
        return kg;
    }
}
