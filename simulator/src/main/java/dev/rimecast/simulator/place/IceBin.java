package dev.rimecast.simulator.place;

/** The store under a machine: full, it stops the machine, which begins again when a tenth has gone. */
public final class IceBin {
    private static final double MELT_SHARE_PER_HOUR_AT_25_CELSIUS = 0.004;
    private static final double BEGINS_AGAIN_AT = 0.9;

    private final double capacityKg;
    private double kg;
    private boolean full;

    public IceBin(double capacityKg, double kg) {
        this.capacityKg = capacityKg;
        this.kg = kg;
    }

    public void add(double ice) {
        kg += ice;
        if (kg >= capacityKg) {
            full = true;
        }
    }

    /** Takes what is there, kg, at most {@code wanted}. */
    public double take(double wanted) {
        double taken = Math.min(wanted, kg);
        kg -= taken;
        release();
        return taken;
    }

    /** Melts for a while; returns the water, kg. */
    public double melt(double seconds, double airCelsius) {
        double melted =
                kg * Math.min(1, MELT_SHARE_PER_HOUR_AT_25_CELSIUS * Math.max(0, airCelsius) / 25 * seconds / 3600);
        kg -= melted;
        release();
        return melted;
    }

    private void release() {
        if (kg < BEGINS_AGAIN_AT * capacityKg) {
            full = false;
        }
    }

    public double kg() {
        return kg;
    }

    public boolean isFull() {
        return full;
    }
}
