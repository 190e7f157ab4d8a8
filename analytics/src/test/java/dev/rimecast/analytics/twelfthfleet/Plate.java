package dev.rimecast.analytics.twelfthfleet;

/** Evaporator with the ice on it, and the water that runs over it. Quasi-steady conduction through the ice (Stefan). */
final class Plate {
    private static final double FUSION = 333_550;
    private static final double WATER_CP = 4187;
    private static final double ICE_CP = 2100;
    private static final double ICE_K = 2.2;
    private static final double ICE_DENSITY = 917;
    private static final double PLATE_HEAT = 3300;
    private static final double CONTACT = 0.003;
    private static final double FILM = 260;
    private static final double AREA = 0.105;
    /** Cups of a machine of size 1: count, radius m, height m. */
    private static final double CUPS = 80;

    private static final double CUP_RADIUS = 0.014;
    private static final double CUP_HEIGHT = 0.028;
    private static final double FULL_CUPS = CUPS * Math.PI * CUP_RADIUS * CUP_RADIUS * CUP_HEIGHT * ICE_DENSITY;
    private static final double SUMP = 3;

    private final double size;
    private final boolean cups;
    double celsius;
    double ice;
    /** kg that must melt before the ice lets go, and what has. */
    double bond;

    double melted;
    double water;
    double waterCelsius;

    Plate(Design design, double start) {
        this.size = design.size();
        this.cups = design.cups();
        this.celsius = start;
        this.waterCelsius = start;
    }

    double fullSump() {
        return SUMP * size;
    }

    /** Ice on a flat plate, mm. */
    double thicknessMillimetres(double dryShare) {
        return 1000 * ice / (ICE_DENSITY * AREA * size * (1 - dryShare));
    }

    private double iceResistance(double dryShare) {
        double wet = size * (1 - dryShare);
        if (!cups) {
            return ice / (ICE_DENSITY * AREA * wet) / (ICE_K * AREA * wet);
        }
        double solid = Math.min(0.985, ice / (FULL_CUPS * wet));
        return -0.5 * Math.log(1 - solid) / (2 * Math.PI * ICE_K * CUPS * CUP_HEIGHT * wet);
    }

    /** A step of freezing. */
    void freeze(double cold, double room, Ills ills, double flowScatter, double dt) {
        double wetting = Math.min(1, water / (0.25 * size));
        double dry = Math.min(0.9, ills.dryShare);
        double film = FILM * size * (1 - dry) * Math.pow(ills.circulation, 0.8) * flowScatter * wetting;
        double contact = CONTACT / (size * (1 - dry)) * (1 + ills.scale);
        double toPlate = 0;
        double fromWater = 0;
        if (film > 1 && (celsius >= 0 || waterCelsius > 0 || wetting > 0.02)) {
            if (ice <= 0 && celsius > -0.3) {
                toPlate = (waterCelsius - celsius) / (contact + 1 / film);
                fromWater = toPlate;
            } else {
                toPlate = -celsius / (contact + iceResistance(dry) + 0.0005 / size);
                fromWater = film * waterCelsius;
                double grown = (toPlate - fromWater) / FUSION * dt;
                grown = Math.max(-ice, Math.min(grown, Math.max(0, water - 0.02)));
                ice += grown;
                water -= grown;
            }
        }
        double gain = 1.3 * size * (room - celsius);
        celsius += dt / (PLATE_HEAT * size) * (toPlate + gain - cold);
        celsius = Math.max(-45, celsius);
        double pump = 12 * size * wetting + 2 * size * (room - waterCelsius);
        double mass = Math.max(water, 0.1 * size) * WATER_CP;
        waterCelsius = Math.max(0, waterCelsius + dt * (pump - fromWater) / mass);
    }

    /** A step of harvest, W from the gas; true when the ice has let go. */
    boolean harvest(double heat, double room, Ills ills, double dt) {
        if (ice > 0.02 * size && celsius >= 0) {
            double conductance = size * 60 / (1 + 0.08 * ills.scale);
            double toIce = Math.min(conductance * (celsius + 0.5), 3 * heat + 50);
            double melt = Math.max(0, toIce) / FUSION * dt;
            melted += melt;
            ice -= melt;
            heat -= toIce;
        }
        double mass = PLATE_HEAT * size + (celsius < 0 ? 0.6 * ice * ICE_CP : 0);
        celsius += dt / mass * (heat + 1.3 * size * (room - celsius));
        return melted >= bond;
    }

    /** Water of the mains into the sump, kg; gives what overflows. */
    double fill(double kilograms, double mainsCelsius) {
        if (kilograms <= 0) {
            return 0;
        }
        waterCelsius = (waterCelsius * water + mainsCelsius * kilograms) / (water + kilograms);
        water += kilograms;
        double over = Math.max(0, water - fullSump());
        water -= over;
        return over;
    }

    void lose(double kilograms) {
        water = Math.max(0, water - kilograms);
    }

    void rest(double store, double room, double dt) {
        celsius += (store - celsius) * Math.min(1, dt / 2400);
        waterCelsius += (room - waterCelsius) * Math.min(1, dt / 14_000);
        if (celsius > 1 && ice > 0) {
            ice = Math.max(0, ice - dt * 0.15e-3 * size * celsius / 10);
        }
    }
}
