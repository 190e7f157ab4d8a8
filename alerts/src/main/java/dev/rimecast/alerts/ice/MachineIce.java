package dev.rimecast.alerts.ice;

/**
 * What a machine has and can do.
 *
 * @param binKg what its bin holds when it is full
 * @param stockKg what is in it
 * @param stockErrorKg one standard deviation
 * @param kgPerHour what it makes when it is called for, as it is now; 0 while it does not run
 * @param relativeError one standard deviation of {@code kgPerHour}, as a share of it
 * @param draw what leaves its bin when all is well
 */
public record MachineIce(
        double binKg, double stockKg, double stockErrorKg, double kgPerHour, double relativeError, DrawProfile draw) {
    public MachineIce {
        if (!(stockKg >= 0 && stockKg <= binKg)) {
            throw new IllegalArgumentException("stock must be from 0 to " + binKg + " kg, was " + stockKg);
        }
        if (!(kgPerHour >= 0)) {
            throw new IllegalArgumentException("kgPerHour must not be negative, was " + kgPerHour);
        }
    }
}
