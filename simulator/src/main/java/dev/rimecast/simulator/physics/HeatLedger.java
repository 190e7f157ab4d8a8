package dev.rimecast.simulator.physics;

/** Sums of energy since the last {@link #clear}, J, and of water and ice, kg. For checks: no decision reads it. */
public final class HeatLedger {
    double workJoules;
    double auxiliaryJoules;
    double rejectedJoules;
    double gainedJoules;
    double waterInJoules;
    double waterOutJoules;
    double iceOutJoules;
    double waterInKg;
    double waterOutKg;
    double iceOutKg;

    HeatLedger() {}

    /** Begins anew. */
    public void clear() {
        workJoules = 0;
        auxiliaryJoules = 0;
        rejectedJoules = 0;
        gainedJoules = 0;
        waterInJoules = 0;
        waterOutJoules = 0;
        iceOutJoules = 0;
        waterInKg = 0;
        waterOutKg = 0;
        iceOutKg = 0;
    }

    /** Work of the compressor. */
    public double workJoules() {
        return workJoules;
    }

    /** Electric energy of compressor, fan and circulation pump. */
    public double electricJoules() {
        return workJoules + auxiliaryJoules;
    }

    /** Heat that the condenser gave to the air. */
    public double rejectedJoules() {
        return rejectedJoules;
    }

    /** Heat that plate and sump took from the surroundings and from the circulation pump. */
    public double gainedJoules() {
        return gainedJoules;
    }

    /** Enthalpy against water at 0 °C: what came in with water less what left with water and ice. */
    public double netWaterJoules() {
        return waterInJoules - waterOutJoules - iceOutJoules;
    }

    public double waterInKg() {
        return waterInKg;
    }

    public double waterOutKg() {
        return waterOutKg;
    }

    public double iceOutKg() {
        return iceOutKg;
    }
}
