package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.acceptance.AcceptanceWatch;
import dev.rimecast.analytics.care.CareWatch;
import dev.rimecast.analytics.cycle.CycleTracker;
import dev.rimecast.analytics.limits.CondensingLimit;
import dev.rimecast.analytics.limits.PlaceLimit;
import dev.rimecast.analytics.limits.StateWatch;
import dev.rimecast.analytics.making.IceWatch;
import dev.rimecast.analytics.making.RestartWatch;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.proof.ProofWatch;
import dev.rimecast.analytics.sensor.SensorCheck;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.analytics.watch.MachineWatch;
import dev.rimecast.telemetry.machine.Channel;

/** Everything that is remembered of one machine, beside its row and what is open: each part keeps its own state. */
final class MachineParts {
    /** From this layout on a machine's state has what its cycles say of the water, and how high its condensing temperature was. */
    private static final int WITH_WATER = 9;
    /** From this one on, how it does in its first cycles, and what has gone through it since its care. */
    private static final int WITH_ACCEPTANCE = 10;
    /** From this one on, what it has learned stands apart, since only cycles and work change it. */
    static final int WITH_LEARNED_APART = 12;

    final ReorderWindow window;
    final CycleTracker tracker;
    final Place place;
    final SensorCheck sensors;
    final PlaceLimit air;
    final PlaceLimit water;
    final CondensingLimit condensing;
    final StateWatch states;
    final IceWatch making;
    final RestartWatch restarts;
    final CareWatch care;
    /** Another one when the machine is exchanged. */
    MachineWatch watch;

    final ProofWatch proofs;
    final WaterSigns waterSigns;
    final AcceptanceWatch acceptance;

    private MachineParts(GroupPolicy policy) {
        window = new ReorderWindow();
        tracker = new CycleTracker(policy.millis(PolicyNumber.REST_MINUTES));
        place = new Place();
        sensors = new SensorCheck();
        air = PlaceLimit.of(Channel.AMBIENT_TEMPERATURE);
        water = PlaceLimit.of(Channel.WATER_TEMPERATURE);
        condensing = new CondensingLimit();
        states = new StateWatch();
        making = new IceWatch();
        restarts = new RestartWatch();
        care = new CareWatch();
        watch = new MachineWatch();
        proofs = new ProofWatch();
        waterSigns = new WaterSigns();
        acceptance = new AcceptanceWatch();
    }

    /** In the order of {@link #save}. */
    private MachineParts(StateReader in, StateReader learned, int version, GroupPolicy policy) {
        window = ReorderWindow.restore(in);
        tracker = CycleTracker.restore(in, policy.millis(PolicyNumber.REST_MINUTES));
        place = Place.restore(in);
        sensors = SensorCheck.restore(in);
        air = PlaceLimit.restore(Channel.AMBIENT_TEMPERATURE, in);
        water = PlaceLimit.restore(Channel.WATER_TEMPERATURE, in);
        condensing = CondensingLimit.restore(in, version >= WITH_WATER);
        states = StateWatch.restore(in);
        making = IceWatch.restore(in);
        restarts = RestartWatch.restore(in);
        care = CareWatch.restore(in, version >= WITH_ACCEPTANCE);
        watch = MachineWatch.restore(learned, policy);
        proofs = ProofWatch.restore(in);
        waterSigns = version >= WITH_WATER ? WaterSigns.restore(in) : new WaterSigns();
        acceptance = version >= WITH_ACCEPTANCE ? AcceptanceWatch.restore(in) : AcceptanceWatch.over();
    }

    static MachineParts fresh(GroupPolicy policy) {
        return new MachineParts(policy);
    }

    /**
     * @param learned what {@link #saveLearned} wrote; the same as {@code in} before {@link #WITH_LEARNED_APART}
     * @param version of the layout that the state was written in
     */
    static MachineParts restore(StateReader in, StateReader learned, int version, GroupPolicy policy) {
        return new MachineParts(in, learned, version, policy);
    }

    void save(StateWriter out) {
        window.save(out);
        tracker.save(out);
        place.save(out);
        sensors.save(out);
        air.save(out);
        water.save(out);
        condensing.save(out);
        states.save(out);
        making.save(out);
        restarts.save(out);
        care.save(out);
        proofs.save(out);
        waterSigns.save(out);
        acceptance.save(out);
    }

    /** What {@link #save} leaves out: most of the bytes, and seldom changed. */
    void saveLearned(StateWriter out) {
        watch.save(out);
    }
}
