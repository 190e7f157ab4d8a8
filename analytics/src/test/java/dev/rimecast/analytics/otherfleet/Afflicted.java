package dev.rimecast.analytics.otherfleet;

/** Everything of one machine and its place that a fault can lay hands on. */
final class Afflicted {
    final Wear wear;
    final Design design;
    final Sensors sensors;
    final Controller controller;
    final Settings asCommissioned;
    double roomKelvin;
    boolean switchedOff;
    boolean gatewayDown;

    Afflicted(Wear wear, IceMachine machine) {
        this.wear = wear;
        this.design = machine.plant.design;
        this.sensors = machine.sensors;
        this.controller = machine.controller;
        this.asCommissioned = machine.controller.settings;
    }

    /** A share of the valve's reserve has to be lost before it shows; a capillary has none. */
    boolean hasReserve() {
        return design.model().expansion() == Model.Expansion.VALVE;
    }
}
