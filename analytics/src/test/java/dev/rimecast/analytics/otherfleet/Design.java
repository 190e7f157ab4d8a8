package dev.rimecast.analytics.otherfleet;

/**
 * How one machine is built, with its own tolerances already in it. Sizes are those of a machine of 50 kg/day times
 * {@code size}, chosen so that cycles, power and split fall into the ranges that are usual for the class.
 */
record Design(
        Model model,
        double size,
        double sweptCubicMetrePerSecond,
        double chargeKg,
        double evaporatorFullKg,
        double feedKgPerSecond,
        double hotGasKgPerSecond,
        double refrigerantJoulePerKelvin,
        double plateJoulePerKelvin,
        double refrigerantSideWattPerKelvin,
        double waterSideWattPerKelvin,
        double contactKelvinPerWatt,
        double iceAreaSquareMetre,
        double sumpKg,
        double batchKg,
        double fillKgPerSecond,
        double condenserWattPerKelvin,
        double airWattPerKelvin,
        double condenserJoulePerKelvin,
        double fanWatt,
        double pumpWatt) {
    private static final double NOMINAL_EVAPORATING = -10;
    private static final double NOMINAL_CONDENSING = 45;
    private static final double NOMINAL_WATT = 520;

    /** Individual tolerances: factors on heat transfer, compressor, air flow and charge. */
    record Tolerance(double heatTransfer, double compressor, double air, double charge) {
        static final Tolerance NONE = new Tolerance(1, 1, 1, 1);
    }

    static Design of(Model model, double size, Tolerance tolerance) {
        OperatingPoint nominal = new OperatingPoint();
        CompressorMap map = CompressorMap.of(model.refrigerant());
        map.read(NOMINAL_EVAPORATING, NOMINAL_CONDENSING, nominal);
        double flow = NOMINAL_WATT * size / nominal.effectJoulePerKg;
        double full = 18 * flow;
        boolean valve = model.expansion() == Model.Expansion.VALVE;
        return new Design(
                model,
                size,
                flow / nominal.kgPerSweptCubicMetre * tolerance.compressor(),
                (valve ? 1.75 : 1.45) * full * tolerance.charge(),
                full,
                (valve ? 2.6 : 1.8) * flow,
                4.8 * flow,
                650 * size,
                2600 * size,
                115 * size * tolerance.heatTransfer(),
                240 * size * tolerance.heatTransfer(),
                0.006 / size,
                0.11 * size,
                model.sumpPerBatch() * 0.95 * size,
                0.95 * size,
                0.03 + 0.045 * size,
                86 * size * tolerance.heatTransfer(),
                76 * size * tolerance.air(),
                4200 * size,
                14 + 16 * size,
                12 + 10 * size);
    }
}
