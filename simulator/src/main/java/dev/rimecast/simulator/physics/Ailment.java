package dev.rimecast.simulator.physics;

/** One thing that can be worse than it should be, with the value that a sound machine has. */
public enum Ailment {
    /** Share of the condenser's heat transfer that is left, by dust or by a weak fan; a stopped fan leaves 0.15. */
    CONDENSER_CONDUCTANCE(1),
    /** Discharge air that comes back to the condenser's inlet, K above the room. */
    RECIRCULATION_KELVIN(0),
    /** Gas that can't condense, K added to the condensing temperature. */
    NON_CONDENSABLE_KELVIN(0),
    /** Share of the circuit's capacity that the charge allows; hot-gas heat goes with it. */
    CHARGE(1),
    /** Share of the compressor's pumped flow that is left. */
    COMPRESSOR(1),
    /** Whether the compressor runs at all. */
    COMPRESSOR_STARTS(1),
    /** Share of the hot gas that leaks to the evaporator during the freeze. */
    HOT_GAS_LEAK(0),
    /** Share of the hot gas that comes through when the valve should be open. */
    HOT_GAS_OPENING(1),
    /** Mains water that runs in all the time, kg/min for a machine of 50 kg a day. */
    INLET_LEAK(0),
    /** Sump water that runs away while it should stay, kg/min for a machine of 50 kg a day. */
    WATER_LOSS(0),
    /** Share of the inlet's flow that the supply gives. */
    WATER_SUPPLY(1),
    /** Share of the circulation that reaches the plate. */
    CIRCULATION(1),
    /** Multiple of the thermal resistance between refrigerant and water or ice. */
    SCALE(1),
    /** Share of contact between probe and evaporator; the rest is air and water. */
    EVAPORATOR_CONTACT(1),
    /** Whether the evaporator probe is open. */
    EVAPORATOR_PROBE_OPEN(0),
    /** K added by the evaporator probe. */
    EVAPORATOR_PROBE_OFFSET(0),
    /** Whether the condenser probe is stuck at its last value. */
    CONDENSER_PROBE_STUCK(0),
    /** K added by the condenser probe. */
    CONDENSER_PROBE_OFFSET(0),
    /** Whether the bin sensor says full whatever is in the bin. */
    BIN_STUCK_FULL(0),
    /** Whether the bin sensor never says full. */
    BIN_STUCK_EMPTY(0),
    /** Share of the waste line's flow, by gravity or behind the pump. */
    DRAIN_FLOW(1),
    /** Whether the drain pump runs. */
    DRAIN_PUMP_RUNS(1),
    /** How much longer fouled level probes stay bridged in the mean, s; dirt and drops hold them now more, now less. */
    LEVEL_PROBE_HOLD(0),
    /** How much longer the machine is set to wait after power-on, s. */
    START_DELAY(0),
    /** Whether somebody left the machine in its cleaning mode. */
    IN_CLEANING(0),
    /** Whether the machine has no power. */
    POWER_OFF(0);

    private final double sound;

    Ailment(double sound) {
        this.sound = sound;
    }

    /** The value of a sound machine. */
    public double sound() {
        return sound;
    }
}
