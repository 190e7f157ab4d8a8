package dev.rimecast.analytics.otherfleet;

/**
 * Water below the plate, its pipe from the mains, and where it leaks. Water that stands in the pipe takes on the room's
 * temperature, so the first litres after a rest are not mains water.
 */
final class Sump {
    static final double WATER_JOULE_PER_KG_KELVIN = 4186;
    private static final double PIPE_KG = 0.7;
    private static final double PIPE_SECONDS = 1500;
    private static final double DUMP_SECONDS = 32;

    private final Design design;
    private final Wear wear;
    double waterKg;
    double waterCelsius;
    double pipeCelsius;
    double takenKg;
    private double wastedKg;

    Sump(Design design, Wear wear, double waterCelsius) {
        this.design = design;
        this.wear = wear;
        this.waterKg = 0;
        this.waterCelsius = waterCelsius;
        this.pipeCelsius = waterCelsius;
    }

    /** Water comes in, leaks out and runs over. */
    void flow(double seconds, boolean inletOpen, boolean dumpOpen, boolean circulating, Surroundings around) {
        double in = wear.inletLeakKgPerSecond;
        if (inletOpen) {
            in += design.fillKgPerSecond() * Math.sqrt(wear.supplyPressure);
        }
        in *= seconds;
        pipeCelsius += (around.roomCelsius - pipeCelsius) * seconds / PIPE_SECONDS;
        if (in > 0) {
            pipeCelsius += (around.mainsCelsius - pipeCelsius) * Math.min(1, in / PIPE_KG);
            waterCelsius = (waterKg * waterCelsius + in * pipeCelsius) / (waterKg + in);
            waterKg += in;
            takenKg += in;
        }
        double out = wear.dumpLeakKgPerSecond * seconds;
        if (circulating) {
            out += wear.splashKgPerSecond * seconds;
        }
        if (dumpOpen) {
            out += waterKg * Math.min(1, seconds / DUMP_SECONDS);
        }
        out = Math.max(Math.min(out, waterKg), waterKg - design.sumpKg());
        waterKg -= out;
        wastedKg += out;
    }

    /** Cools or warms the water; a freezing sump gives its heat to the ice, not to slush. */
    void heat(double joule) {
        if (waterKg > 0.01 * design.sumpKg()) {
            waterCelsius = Math.max(0, waterCelsius + joule / (waterKg * WATER_JOULE_PER_KG_KELVIN));
        }
    }

    /** Share of the full spray that the pump can still draw. */
    double pumpDraws() {
        return Math.min(1, waterKg / (0.2 * design.sumpKg()));
    }

    /** Waste water since last asked, kg. */
    double takeWaste() {
        double kg = wastedKg;
        wastedKg = 0;
        return kg;
    }
}
