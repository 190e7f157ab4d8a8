package dev.rimecast.analytics.fourthfleet;

/** How one cycle differs from the next of the same machine. */
final class CycleScatter {
    private final Chance chance;
    double convection = 1;
    double capacity = 1;
    double mass = 1;
    /** A weak fan is weak by fits and starts. */
    double fan = 1;
    /** Ice lets go a little sooner or later, 0.9 to 1.1. */
    double grip = 1;

    CycleScatter(Chance chance) {
        this.chance = chance;
    }

    void nextFreeze() {
        convection = chance.about(.02, 2.5);
        capacity = chance.about(.008, 2.5);
        mass = chance.about(.015, 2.5);
        fan = chance.about(.12, 2);
    }

    void nextHarvest() {
        grip = chance.between(.9, 1.1);
    }
}
