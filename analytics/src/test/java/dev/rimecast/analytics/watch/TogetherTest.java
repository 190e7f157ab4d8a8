package dev.rimecast.analytics.watch;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.diagnosis.Signatures;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * A compressor that gets weak moves a freeze, a harvest, the condensing temperature and the plate at once (Rossi and Braun 1997,
 * table of rules: the condensing temperature falls, the evaporating one rises); none of it has to be much.
 */
class TogetherTest {
    private static final GroupPolicy POLICY = Policy.standard().forGroup(Optional.empty());
    private static final Conditions PLACE = new Conditions(24, 0.3, "sensor", 15, 0.3, "sensor");
    private static final Sign.Change LONG_FREEZE = Sign.LONG_FREEZE.changes().get(0);

    private static final Map<Feature, Double> USUAL = Map.of(
            Feature.PULL_DOWN,
            160.0,
            Feature.FREEZE,
            1200.0,
            Feature.HARVEST,
            200.0,
            Feature.SPLIT,
            15.0,
            Feature.EVAPORATOR_END,
            -17.0);

    private final Random random = new Random(8);
    private final Map<Feature, Watched> watched = new EnumMap<>(Feature.class);
    private final List<Map<Feature, Integer>> byLevel = Signatures.of(Optional.of(EndsBy.LEVEL), Optional.empty());
    private long now = 1_777_800_000_000L;

    private void live(int cycles, Map<Feature, Double> shares) {
        for (int i = 0; i < cycles; i++) {
            USUAL.forEach((feature, usual) -> {
                double share = shares.getOrDefault(feature, 0.0);
                double value = feature == Feature.SPLIT || feature == Feature.EVAPORATOR_END
                        ? usual + share + 0.5 * random.nextGaussian()
                        : usual * (1 + share) * Math.exp(0.03 * random.nextGaussian());
                watched.computeIfAbsent(feature, f -> new Watched(f, POLICY)).take(value, PLACE, now, false, POLICY);
            });
            now += 30 * 60_000L;
        }
    }

    private double size() {
        return Together.size(LONG_FREEZE, watched, byLevel, POLICY);
    }

    private boolean isAlone() {
        return Objects.requireNonNull(watched.get(Feature.FREEZE)).isAlarm(true, false, POLICY);
    }

    @Test
    void soundMachine_saysNothing() {
        live(1200, Map.of());
        assertThat(size()).isZero();
    }

    @Test
    void muchALittle_ofOneCause_isAFindingBeforeAnyAlone() {
        live(1200, Map.of());
        Map<Feature, Double> weak = Map.of(
                Feature.PULL_DOWN,
                0.03,
                Feature.FREEZE,
                0.02,
                Feature.HARVEST,
                0.025,
                Feature.SPLIT,
                -0.5,
                Feature.EVAPORATOR_END,
                0.4);
        for (int day = 0; day < 20 && size() < 1; day++) {
            live(48, weak);
            assertThat(isAlone()).isFalse();
        }
        assertThat(size()).isGreaterThanOrEqualTo(1);
    }

    @Test
    void oneThatGoesAgainstIt_isNoSuchCause() {
        live(1200, Map.of());
        Map<Feature, Double> mixed = Map.of(
                Feature.PULL_DOWN,
                -0.12,
                Feature.FREEZE,
                0.02,
                Feature.HARVEST,
                -0.1,
                Feature.SPLIT,
                2.0,
                Feature.EVAPORATOR_END,
                0.4);
        live(400, mixed);
        assertThat(size()).isLessThan(1);
    }
}
