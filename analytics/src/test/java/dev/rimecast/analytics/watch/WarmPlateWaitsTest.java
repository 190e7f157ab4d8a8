package dev.rimecast.analytics.watch;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * The first freeze that is judged after a rest may still end warm, since all around the plate is (the trade's lumped model: the first
 * cycle from warm pulls down in twice the time). A step to the warm side waits for the next one [common practice].
 */
class WarmPlateWaitsTest {
    private static final GroupPolicy POLICY = Policy.standard().forGroup(Optional.empty());
    private static final Conditions PLACE = new Conditions(24, 0.3, "sensor", 15, 0.3, "sensor");
    private static final int AFTER_A_REST = 1;
    private static final int IN_A_RUN = 2;

    private final WatchedFeatures features = new WatchedFeatures();
    private final Random random = new Random(5);
    private long now = 1_777_800_000_000L;

    private static Machine timed() {
        Machine m = Machine.basic("ice-1", "site-a", "gateway-a");
        return new Machine(
                m.id(),
                m.site(),
                m.gateway(),
                m.room(),
                m.modelGroup(),
                m.serial(),
                m.kind(),
                m.condenserCooling(),
                m.ratedKgPerDay(),
                m.binKg(),
                m.refrigerant(),
                Optional.of(EndsBy.TIME),
                m.harvestEndsBy(),
                m.fillEndsBy(),
                m.evaporatorProbeAt(),
                m.limits(),
                m.drainKind(),
                m.startDelaySeconds(),
                m.place(),
                m.care(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                m.build());
    }

    private void cycles(int count, double kelvin) {
        for (int i = 0; i < count; i++) {
            now += 25 * 60_000L;
            double end = -17 + kelvin + 0.4 * random.nextGaussian();
            features.of(Feature.EVAPORATOR_END, POLICY).take(end, PLACE, now, false, POLICY);
        }
    }

    private boolean isSaid(int cyclesSinceRest) {
        return features.firstAlarm(Sign.LOW_OUTPUT, cyclesSinceRest, timed(), POLICY)
                .isPresent();
    }

    @Test
    void warmStep_thatTheFirstFreezeAfterARestShows_waitsForTheNext() {
        cycles(400, 0);
        cycles(3, 8);
        assertThat(isSaid(AFTER_A_REST)).isFalse();
        cycles(1, 8);
        assertThat(isSaid(IN_A_RUN)).isTrue();
    }

    @Test
    void warmFreezes_ofThreeDays_waitForNothing() {
        cycles(400, 0);
        cycles(170, 4);
        assertThat(isSaid(AFTER_A_REST)).isTrue();
    }

    /** What makes a plate colder is no warm start. */
    @Test
    void coldStep_doesNotWait() {
        cycles(400, 0);
        cycles(3, -10);
        assertThat(isSaid(AFTER_A_REST)).isTrue();
    }
}
