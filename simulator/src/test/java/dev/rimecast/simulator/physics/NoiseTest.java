package dev.rimecast.simulator.physics;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HashSet;
import java.util.Set;
import org.junit.jupiter.api.Test;

class NoiseTest {

    @Test
    void neighbouringSeeds_onceSpread_shareNoDraws() {
        Set<Double> seen = new HashSet<>();
        for (long seed = 1; seed <= 20; seed++) {
            Noise noise = Noise.of(Noise.spread(seed), "site-01/plan");
            for (int draw = 0; draw < 100; draw++) {
                assertThat(seen.add(noise.uniform()))
                        .as("seed %d, draw %d", seed, draw)
                        .isTrue();
            }
        }
    }

    @Test
    void sameSeedAndName_giveTheSame_andAnotherNameAnother() {
        assertThat(Noise.of(4, "a").uniform()).isEqualTo(Noise.of(4, "a").uniform());
        assertThat(Noise.of(4, "a").uniform()).isNotEqualTo(Noise.of(4, "b").uniform());
    }
}
