package dev.rimecast.analytics.otherfleet;

/**
 * The high side: an air-cooled condenser by effectiveness and number of transfer units, one lump of metal and refrigerant, and
 * air that partly comes round again. The air-side coefficient goes with the 0.6th power of the flow (common practice for
 * finned coils); the refrigerant side is a third of the resistance of a clean coil.
 */
final class CondenserSide {
    private static final double NATURAL_CONVECTION = 0.06;
    private static final double INTAKE_SECONDS = 40;
    private static final double SWITCH_ON_CELSIUS = 36;
    private static final double SWITCH_OFF_CELSIUS = 30;
    private static final double HOT_HARVEST_CELSIUS = 56;

    private final Design design;
    private final Wear wear;
    double condensingCelsius;
    private double intakeRise;
    private double conductanceRunning;
    private double conductanceStill;
    private double rejectedWatt;
    private boolean pressureSwitch;

    CondenserSide(Design design, Wear wear, double roomCelsius) {
        this.design = design;
        this.wear = wear;
        this.condensingCelsius = roomCelsius;
        refresh();
    }

    /** Takes over what has worn; once a minute is often enough. */
    void refresh() {
        conductanceRunning = conductance(wear.fanDead ? NATURAL_CONVECTION : wear.airFlow);
        conductanceStill = conductance(NATURAL_CONVECTION * wear.airFlow);
    }

    private double conductance(double flowShare) {
        double air = design.airWattPerKelvin() * Math.max(0.02, flowShare);
        double clean = design.condenserWattPerKelvin() * wear.condenserArea;
        double resistance = 0.67 / (clean * Math.pow(Math.max(0.02, flowShare), 0.6)) + 0.33 / clean;
        return air * (1 - Math.exp(-1 / (resistance * air)));
    }

    /**
     * One step.
     *
     * @param heatWatt what the refrigerant brings; negative while hot gas boils the condenser's liquid off
     * @param flooded share of the coil that stands full of liquid
     */
    void step(double seconds, double heatWatt, boolean fanCalled, double roomCelsius, double flooded) {
        pressureSwitch =
                condensingCelsius > SWITCH_ON_CELSIUS || (pressureSwitch && condensingCelsius > SWITCH_OFF_CELSIUS);
        boolean hot = condensingCelsius > HOT_HARVEST_CELSIUS;
        boolean fan = hot || (fanCalled && (!design.model().fanOnPressureSwitch() || pressureSwitch));
        double conductance = (fan ? conductanceRunning : conductanceStill) * (1 - flooded);
        double intake = roomCelsius + intakeRise;
        // semi-implicit, so that a long step with a small metal mass stays stable
        double capacity = design.condenserJoulePerKelvin() / seconds;
        condensingCelsius = (capacity * condensingCelsius + heatWatt + conductance * intake) / (capacity + conductance);
        rejectedWatt = conductance * (condensingCelsius - intake);
        double round = Math.min(0.8, design.model().recirculation() + wear.recirculation);
        double airWatt = design.airWattPerKelvin() * (fan && !wear.fanDead ? Math.max(0.1, wear.airFlow) : 0.15);
        double target = fan ? round / (1 - round) * rejectedWatt / airWatt : 0;
        intakeRise += (target - intakeRise) * Math.min(1, seconds / INTAKE_SECONDS);
    }

    /** How much warmer the air behind the coil is than the room, K. */
    double dischargeRise() {
        return intakeRise + rejectedWatt / (design.airWattPerKelvin() * Math.max(0.2, wear.airFlow));
    }

    double intakeRise() {
        return intakeRise;
    }
}
