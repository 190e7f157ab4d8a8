package dev.rimecast.simulator.physics;

/** What the place does to the machine now. Set by whoever runs the machine, before each step. */
public final class Surroundings {
    private double airCelsius;
    private double mainsCelsius;
    private boolean binFull;
    private boolean iceBelow;
    private boolean lidOpen;

    public Surroundings(double airCelsius, double mainsCelsius) {
        this.airCelsius = airCelsius;
        this.mainsCelsius = mainsCelsius;
    }

    /**
     * Sets air and water.
     *
     * @param airCelsius room air at the machine
     * @param mainsCelsius water at the inlet
     */
    public void climate(double airCelsius, double mainsCelsius) {
        this.airCelsius = airCelsius;
        this.mainsCelsius = mainsCelsius;
    }

    /**
     * Sets the bin.
     *
     * @param full what a sound bin sensor says
     * @param iceBelow whether ice lies under the evaporator and keeps it cold at rest
     */
    public void bin(boolean full, boolean iceBelow) {
        this.binFull = full;
        this.iceBelow = iceBelow;
    }

    /** Whether somebody left the bin open: room air mixes with the cold air over the ice. */
    public void lid(boolean open) {
        lidOpen = open;
    }

    public double airCelsius() {
        return airCelsius;
    }

    public double mainsCelsius() {
        return mainsCelsius;
    }

    public boolean binFull() {
        return binFull;
    }

    /** Temperature around the plate while the machine rests, °C: ice below keeps its air cool. */
    public double restingCelsius() {
        if (!iceBelow) {
            return airCelsius;
        }
        double shut = 5 + 0.2 * airCelsius;
        return lidOpen ? (shut + airCelsius) / 2 : shut;
    }
}
