package dev.rimecast.analytics.watch;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;

class ColdHarvestTest {
    private final ColdHarvest harvests = new ColdHarvest();

    private static RawCycle harvest(double seconds, OptionalDouble warmest) {
        OptionalDouble none = OptionalDouble.empty();
        return new RawCycle(
                0,
                1_800_000,
                OptionalDouble.of(180),
                OptionalDouble.of(1200),
                OptionalDouble.of(seconds),
                none,
                none,
                none,
                OptionalDouble.of(-17),
                warmest,
                none,
                none,
                none,
                OptionalInt.empty(),
                none,
                none,
                none,
                none,
                true,
                0,
                0,
                5);
    }

    private void see(double seconds, double warmest) {
        harvests.cycle(harvest(seconds, OptionalDouble.of(warmest)));
    }

    @Test
    void plateStaysFrozenTwice_isSure() {
        see(420, -16);
        assertThat(harvests.isSuspected()).isTrue();
        assertThat(harvests.isSure()).isFalse();
        see(720, -4);
        assertThat(harvests.isSure()).isTrue();
    }

    @Test
    void iceThatMelts_isNothing() {
        see(420, 0.5);
        see(420, -0.5);
        assertThat(harvests.isSuspected()).isFalse();
    }

    /** A probe that is strapped on beside the plate shows less than the plate. */
    @Test
    void harvestsThatAlwaysSeemCold_areNothing_untilOneIsColder() {
        for (int i = 0; i < 30; i++) {
            see(300, 0.8 - 0.05 * (i % 5));
        }
        see(300, -2.1);
        see(300, -2.3);
        assertThat(harvests.isSuspected()).isFalse();
        see(300, -6);
        see(300, -6);
        assertThat(harvests.isSure()).isTrue();
    }

    /** Read once a minute, a short harvest may be over before its plate was seen warm. */
    @Test
    void shortHarvest_isNotJudged() {
        see(150, -6);
        see(150, -6);
        assertThat(harvests.isSuspected()).isFalse();
    }

    @Test
    void plateNotSeen_isNotJudged() {
        harvests.cycle(harvest(420, OptionalDouble.empty()));
        harvests.cycle(harvest(420, OptionalDouble.empty()));
        assertThat(harvests.isSuspected()).isFalse();
    }

    @Test
    void threeGoodHarvests_endIt() {
        see(420, -16);
        see(420, -16);
        see(180, 9);
        see(180, 9);
        assertThat(harvests.isSure()).isTrue();
        see(180, 9);
        assertThat(harvests.isSuspected()).isFalse();
    }

    @Test
    void restored_goesOn() {
        see(420, -16);
        StateWriter out = new StateWriter();
        harvests.save(out);
        ColdHarvest restored = ColdHarvest.restore(new StateReader(out.toBytes()));
        restored.cycle(harvest(420, OptionalDouble.of(-15)));
        assertThat(restored.isSure()).isTrue();
    }
}
