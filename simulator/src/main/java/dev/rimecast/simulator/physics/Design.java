package dev.rimecast.simulator.physics;

/**
 * The build of one machine. All that has a size grows with the rating; the numbers behind {@link #ofRating} are those
 * of a lumped model of a 50 kg machine that was not validated on a real one.
 *
 * @param ratedKgPerDay at the rating conditions
 * @param scale rating over 50 kg
 * @param capacityWatts cooling at −10 °C evaporating and 45 °C condensing
 * @param carnotShare efficiency against Carnot between the two temperatures, with 4 K and 9 K lost on the sides
 * @param condenserConductance W/K with a clean coil and its fan running
 * @param wetConductance between flowing water and plate or ice, W/K
 * @param plateResistance between refrigerant and plate face, K/W
 * @param plateHeat heat capacity of plate and evaporator, J/K
 * @param plateArea where ice grows, m²
 * @param plateGain between plate and surroundings, W/K
 * @param sumpGain between sump and surroundings, W/K
 * @param sumpKg water in a full sump
 * @param fillKg water taken for one batch, flush included
 * @param fillKgPerSecond inlet flow at normal pressure
 * @param hotGasShare hot-gas heat over capacity; times 0.55 at 20 °C condensing, 0.89 at 45 °C
 * @param fanCycles whether the fan stops while the condenser is cold
 */
public record Design(
        double ratedKgPerDay,
        double scale,
        double capacityWatts,
        double carnotShare,
        double condenserConductance,
        double wetConductance,
        double plateResistance,
        double plateHeat,
        double plateArea,
        double plateGain,
        double sumpGain,
        double sumpKg,
        double fillKg,
        double fillKgPerSecond,
        double hotGasShare,
        boolean fanCycles) {

    /** A machine as designed. */
    public static Design ofRating(double kgPerDay) {
        double s = kgPerDay / 50;
        return new Design(
                kgPerDay,
                s,
                513 * s,
                0.36,
                52 * s,
                260 * s,
                0.0055 / s,
                3300 * s,
                0.105 * s,
                1.3 * s,
                0.8 * s,
                3 * s,
                4 * s,
                0.05 * s,
                1.9,
                false);
    }

    /** Batch of ice that this machine is built to make, kg. */
    public double batchKg() {
        return scale;
    }

    /** Power of the circulation pump, W; it all ends in the water. */
    public double pumpWatts() {
        return 10 * scale;
    }

    /** Power of the condenser fan, W. */
    public double fanWatts() {
        return 22 * scale;
    }

    /** Heat capacity of the condenser, J/K: a time constant of 75 s at its clean conductance. */
    public double condenserHeat() {
        return 75 * 50 * scale;
    }

    /** The same machine with a fan that stops while the condenser is cold. */
    public Design withFanCycling() {
        return jittered(1, 1, 1, 1, true);
    }

    /** The same machine as one of many: no two leave the works alike. Factors near 1. */
    public Design jittered(double capacity, double efficiency, double conductance, double water) {
        return jittered(capacity, efficiency, conductance, water, fanCycles);
    }

    private Design jittered(double capacity, double efficiency, double conductance, double water, boolean cycles) {
        return new Design(
                ratedKgPerDay,
                scale,
                capacityWatts * capacity,
                carnotShare * efficiency,
                condenserConductance * conductance,
                wetConductance * water,
                plateResistance,
                plateHeat,
                plateArea,
                plateGain,
                sumpGain,
                sumpKg,
                fillKg * water,
                fillKgPerSecond * water,
                hotGasShare,
                cycles);
    }
}
