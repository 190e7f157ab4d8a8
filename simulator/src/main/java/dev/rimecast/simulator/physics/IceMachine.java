package dev.rimecast.simulator.physics;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import java.util.Optional;

/**
 * A batch ice machine in a place: steps of two seconds while it works, of ten while it rests. Not safe for threads.
 * Lumped and not validated on a real machine; see the tests for what it is held to.
 */
public final class IceMachine {
    /** Step while it works, ms. */
    public static final long WORKING_STEP_MILLIS = 2000;

    /** Step while it rests, ms. */
    public static final long RESTING_STEP_MILLIS = 10_000;

    private static final double EVAPORATOR_LAG_SECONDS = 20;
    private static final double CONDENSER_LAG_SECONDS = 15;
    private static final double DUMP_KG_PER_SECOND = 0.3;
    private static final double FIRST_FILL_SHARE = 0.3;
    private static final double FILL_GIVES_UP_SECONDS = 240;

    private final Design design;
    private final Control control;
    private final Surroundings place;
    private final Noise noise;
    private final MachineEvents events;
    private final IceMaker maker;
    private final DrainTank drain;
    private final Controller controller;
    private final Probe evaporator;
    private final Probe condenser;
    private final Ailments ailments = new Ailments();
    private final double iceMillimetresPerKg;

    private Phase lastPhase = Phase.OFF;
    private double fillLeftKg;
    private double fillSeconds;
    private double meltInKg;
    private double releasedKg;
    private double waterKg;

    public IceMachine(
            Design design, Control control, DrainDesign drain, Surroundings place, Noise noise, MachineEvents events) {
        this.design = design;
        this.control = control;
        this.place = place;
        this.noise = noise;
        this.events = events;
        maker = new IceMaker(design, place);
        this.drain = new DrainTank(drain, events);
        controller = new Controller(control, events);
        evaporator = new Probe(EVAPORATOR_LAG_SECONDS, place.airCelsius());
        condenser = new Probe(CONDENSER_LAG_SECONDS, place.airCelsius());
        iceMillimetresPerKg = 1000 / (Substance.ICE_DENSITY * design.plateArea());
    }

    /** What the machine suffers from; call {@link #ailmentsChanged} after a change. */
    public Ailments ailments() {
        return ailments;
    }

    public void ailmentsChanged() {
        maker.suffer(ailments);
        drain.suffer(ailments);
    }

    /**
     * One step from {@code millis}.
     *
     * @return its length, ms
     */
    public long step(long millis) {
        Phase phase = controller.phase();
        boolean rests = rests(phase) && drain.isQuiet() && fillLeftKg <= 0 && millis % RESTING_STEP_MILLIS == 0;
        long length = rests ? RESTING_STEP_MILLIS : WORKING_STEP_MILLIS;
        double dt = length / 1000.0;
        if (phase == Phase.HARVEST && lastPhase != Phase.HARVEST) {
            maker.beginHarvest();
            fillLeftKg = design.fillKg() * noise.factor(0.02);
            fillSeconds = 0;
        }
        lastPhase = phase;
        if (controller.takeCycleBegun()) {
            // No two cycles are alike: freezes differ by 2 to 3 %, harvests by 4 to 6 %, splits by 0.6 K and more.
            maker.beginCycle(noise.factor(0.02), noise.factor(0.045), noise.factor(0.035));
            drain.beginCycle(noise);
        }
        physics(millis, dt, phase);
        controller.step(seen(millis, millis + length));
        return length;
    }

    private static boolean rests(Phase phase) {
        return switch (phase) {
            case WAIT, IDLE, OFF, STOPPED, CLEAN -> true;
            case FILL, FREEZE, HARVEST, REDUCED -> false;
        };
    }

    private void physics(long millis, double dt, Phase phase) {
        boolean dumping =
                phase == Phase.HARVEST && control.dumpsAtHarvest() && fillSeconds <= 0 && maker.sumpKg() > 0.02;
        double inlet = dumping ? 0 : inlet(millis, dt, phase);
        maker.step(dt, mode(phase), phase == Phase.FREEZE, inlet, place);
        if (dumping) {
            maker.drain(DUMP_KG_PER_SECOND * design.scale() * dt);
        }
        releasedKg += maker.releasedKg();
        waterKg += maker.takenKg();
        drain.step(millis, dt, maker.wasteKg() + meltInKg);
        meltInKg = 0;
        double contact = ailments.get(Ailment.EVAPORATOR_CONTACT);
        double loose = (place.airCelsius() + maker.sumpCelsius()) / 2;
        evaporator.follow(dt, contact * maker.plateCelsius() + (1 - contact) * loose);
        condenser.follow(dt, maker.condenserCelsius());
    }

    private static Circuit.Mode mode(Phase phase) {
        return switch (phase) {
            case FREEZE, REDUCED -> Circuit.Mode.COOLING;
            case HARVEST -> Circuit.Mode.HOT_GAS;
            case WAIT, FILL, IDLE, CLEAN, STOPPED, OFF -> Circuit.Mode.OFF;
        };
    }

    /** The inlet valve: a timed fill after power-on, a measured one with every harvest. Returns kg/s. */
    private double inlet(long millis, double dt, Phase phase) {
        double supply = ailments.get(Ailment.WATER_SUPPLY) * design.fillKgPerSecond();
        if (phase == Phase.FILL) {
            return FIRST_FILL_SHARE * supply;
        }
        if (fillLeftKg <= 0) {
            return 0;
        }
        fillSeconds += dt;
        double flow = Math.min(supply, fillLeftKg / dt);
        fillLeftKg -= (control.fillByLevel() ? supply : design.fillKgPerSecond()) * dt;
        if (fillLeftKg <= 0 || fillSeconds >= FILL_GIVES_UP_SECONDS) {
            double over = fillLeftKg < 0 && supply > 0 ? -fillLeftKg / supply : 0;
            fillLeftKg = 0;
            events.duration(millis + StrictMath.round((dt - over) * 1000), Channel.FILL_TIME, fillSeconds - over);
        }
        return flow;
    }

    private Controller.Seen seen(long start, long end) {
        return new Controller.Seen(
                start,
                end,
                evaporator,
                condenserProbeCelsius(),
                ailments.is(Ailment.EVAPORATOR_PROBE_OPEN),
                design.sumpKg() - maker.sumpKg(),
                maker.iceKg() * iceMillimetresPerKg,
                saysBinFull(),
                drain.signalSeconds(),
                !ailments.is(Ailment.POWER_OFF),
                ailments.is(Ailment.IN_CLEANING),
                control.startDelaySeconds() + ailments.get(Ailment.START_DELAY));
    }

    /** Somebody switches the machine off and on again. */
    public void reset(long millis) {
        controller.reset(millis);
    }

    /** Somebody clears the plate and starts a cleaning; it ends by itself unless {@link Ailment#IN_CLEANING} holds it. */
    public void startCleaning(long millis) {
        maker.clearPlate();
        controller.startCleaning(millis);
    }

    /** Water of molten ice from the bin runs into the drain tank with the next step, kg. */
    public void melt(double kg) {
        meltInKg += kg;
    }

    /** Ice that has fallen into the bin since this was last asked, kg. */
    public double takeReleasedKg() {
        double kg = releasedKg;
        releasedKg = 0;
        return kg;
    }

    /** What the controller says that it does. */
    public Phase phase() {
        return controller.said();
    }

    public Optional<StopReason> stopReason() {
        return controller.stopReason();
    }

    /** Whether it stays stopped until somebody switches it off and on. */
    public boolean isLockedOut() {
        return controller.isLockedOut();
    }

    /** What the bin sensor says. */
    public boolean saysBinFull() {
        return ailments.is(Ailment.BIN_STUCK_FULL) || (!ailments.is(Ailment.BIN_STUCK_EMPTY) && place.binFull());
    }

    /** The evaporator probe's reading without noise, °C. */
    public double evaporatorProbeCelsius() {
        return evaporator.celsius() + ailments.get(Ailment.EVAPORATOR_PROBE_OFFSET);
    }

    /** The condenser probe's reading without noise, °C. */
    public double condenserProbeCelsius() {
        return condenser.celsius() + ailments.get(Ailment.CONDENSER_PROBE_OFFSET);
    }

    /** What the whole machine draws, W. */
    public double watts() {
        return maker.watts();
    }

    /** Mains water taken since the machine was made, kg. */
    public double waterKg() {
        return waterKg;
    }

    public double plateCelsius() {
        return maker.plateCelsius();
    }

    public double condenserCelsius() {
        return maker.condenserCelsius();
    }

    public double iceKg() {
        return maker.iceKg();
    }

    /** Heat stored against water and metal at 0 °C, J. */
    public double heldJoules() {
        return maker.heldJoules();
    }

    public HeatLedger ledger() {
        return maker.ledger;
    }

    public Design design() {
        return design;
    }
}
