package dev.rimecast.analytics.watch;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * Two cycles that are far off say what three that are a little less do. A probe that is half off its plate makes a freeze half as
 * long again (the trade's lumped model); what a box before a grille or an open lid does is less than what counts here
 * [common practice].
 */
class GreatStepTest {
    private static final GroupPolicy POLICY = Policy.standard().forGroup(Optional.empty());
    private static final Conditions PLACE = new Conditions(24, 0.3, "sensor", 15, 0.3, "sensor");

    private final Random random = new Random(5);
    private long now = 1_777_800_000_000L;

    private Watched sound(Feature feature, double usual, double noise) {
        Watched watched = new Watched(feature, POLICY);
        for (int i = 0; i < 400; i++) {
            double value = feature == Feature.SPLIT || feature == Feature.EVAPORATOR_END
                    ? usual + noise * random.nextGaussian()
                    : usual * Math.exp(noise * random.nextGaussian());
            take(watched, value);
        }
        return watched;
    }

    private void take(Watched watched, double value) {
        watched.take(value, PLACE, now, false, POLICY);
        now += 25 * 60_000L;
    }

    @Test
    void freezeHalfAsLongAgain_isSaidAfterTwo_withAllOfIt() {
        Watched freeze = sound(Feature.FREEZE, 1200, 0.02);
        take(freeze, 1800);
        assertThat(freeze.isAlarm(true, false, POLICY)).isFalse();
        take(freeze, 1800);
        assertThat(freeze.isAlarm(true, false, POLICY)).isTrue();
        assertThat(freeze.level(POLICY)).isBetween(Math.log(1.4), Math.log(1.6));
    }

    @Test
    void oneLongFreezeBetweenOthers_isNone() {
        Watched freeze = sound(Feature.FREEZE, 1200, 0.02);
        take(freeze, 1800);
        take(freeze, 1200);
        take(freeze, 1800);
        assertThat(freeze.isGreat(true, POLICY)).isFalse();
    }

    @Test
    void boxBeforeTheGrille_isNone() {
        Watched split = sound(Feature.SPLIT, 15, 0.4);
        take(split, 19.8);
        take(split, 19.8);
        assertThat(split.isAlarm(true, false, POLICY)).isFalse();
    }

    @Test
    void plateThatRunsDry_isSaidAfterTwo() {
        Watched plate = sound(Feature.EVAPORATOR_END, -17, 0.4);
        take(plate, -27);
        assertThat(plate.isAlarm(false, false, POLICY)).isFalse();
        take(plate, -27);
        assertThat(plate.isAlarm(false, false, POLICY)).isTrue();
    }

    @Test
    void twoShortFreezes_areIceThatHasStayed() {
        Watched freeze = sound(Feature.FREEZE, 1200, 0.02);
        take(freeze, 700);
        take(freeze, 700);
        assertThat(freeze.isGreat(false, POLICY)).isFalse();
    }
}
