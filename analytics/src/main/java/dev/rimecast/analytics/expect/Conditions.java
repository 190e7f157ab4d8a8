package dev.rimecast.analytics.expect;

/**
 * The air and water that a cycle was made with.
 *
 * @param ambientCelsius best estimate
 * @param ambientSpreadKelvin standard deviation of what stays wrong in it for days; what changes from cycle to cycle is
 *     learned as noise of the features
 * @param ambientSource {@value #SENSOR}, {@value #AT_REST}, {@value #CONDENSER}, {@value #CONDENSING}, or empty where nothing is known
 * @param waterCelsius best estimate
 * @param waterSpreadKelvin the same of the water
 * @param waterSource {@value #SENSOR}, {@value #OF_SITE} or {@code season}; empty where nothing is known
 */
public record Conditions(
        double ambientCelsius,
        double ambientSpreadKelvin,
        String ambientSource,
        double waterCelsius,
        double waterSpreadKelvin,
        String waterSource) {
    /** The source of what a sensor says. */
    public static final String SENSOR = "sensor";

    /** The season's water, changed by what sensors of other machines on the site show. */
    public static final String OF_SITE = "site";

    /** The room as the condenser had it just before, when the machine rested. */
    public static final String AT_REST = "condenser-at-rest";

    /** The room by the last rest, which is long ago, and by how warm the condenser has become since. */
    public static final String CONDENSER = "condenser";

    /** The air at a condenser out of doors, by its condensing temperature less a fixed split: nothing else tells it. */
    public static final String CONDENSING = "condensing";

    /** The conditions at which a policy's typical values hold. */
    public static final double REFERENCE_AMBIENT_CELSIUS = 25;

    public static final double REFERENCE_WATER_CELSIUS = 15;

    public boolean hasAmbient() {
        return !ambientSource.isEmpty();
    }

    /** Whether it is known well enough for a temperature to be set against it. */
    public boolean hasFreshAmbient() {
        return ambientSource.equals(SENSOR) || ambientSource.equals(AT_REST);
    }

    public boolean hasSensor() {
        return ambientSource.equals(SENSOR);
    }

    /** Whether the condenser stands out of doors, where its own temperature is all that tells of its air. */
    public boolean isOutOfDoors() {
        return ambientSource.equals(CONDENSING);
    }

    /** Whether both air and water have sensors of its own. */
    public boolean isMeasured() {
        return ambientSource.equals(SENSOR) && waterSource.equals(SENSOR);
    }

    /** The same with another ambient. */
    public Conditions withAmbient(double celsius, double spreadKelvin, String source) {
        return new Conditions(celsius, spreadKelvin, source, waterCelsius, waterSpreadKelvin, waterSource);
    }

    public boolean hasWater() {
        return !waterSource.isEmpty();
    }
}
