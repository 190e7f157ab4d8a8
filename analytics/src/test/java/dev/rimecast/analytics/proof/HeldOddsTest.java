package dev.rimecast.analytics.proof;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.drift.Trend;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class HeldOddsTest {
    private static final double CORRELATION = 0.4;
    private static final double LEFT = 0.5;
    private static final double MATERIAL = 0.16;
    private static final double NOISE = 0.05 * 0.05;

    private static Standing standing(double unsure) {
        return new Standing(NOISE, unsure, MATERIAL, 0, 0, 0, () -> new Trend(0, Optional.empty(), 0, 1));
    }

    private static double probability(double mean, int cycles, double before) {
        return HeldOdds.probability(mean, cycles, before, standing(0), CORRELATION, LEFT);
    }

    /** Against the double sum of the definition. */
    @ParameterizedTest
    @CsvSource({"1, 0", "1, 0.4", "2, 0.4", "10, 0.4", "10, 0.8", "30, 0"})
    void varianceOfMean_isTheSumOfAllCorrelations(int n, double correlation) {
        double sum = 0;
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                sum += Math.pow(correlation, Math.abs(i - j));
            }
        }
        assertThat(HeldOdds.varianceOfMean(n, correlation)).isCloseTo(sum / n / n, within(1e-12));
    }

    /**
     * By the law of total probability, integrated by steps: what is held against what is not, each as a mixture over what may
     * be left.
     */
    @ParameterizedTest
    @CsvSource({"0.03, 2, 0.4", "0.08, 3, 0.3", "0.2, 1, 0.2", "0, 5, 0.16"})
    void probability_isThatOfTheTwoMixtures(double mean, int cycles, double before) {
        double sampling = HeldOdds.varianceOfMean(cycles, CORRELATION) * NOISE;
        double rough = 0.15 * MATERIAL;
        double to = 1.3 * Math.max(before, MATERIAL);
        double held = 0;
        double not = 0;
        double step = 1e-5;
        for (double left = -1; left < 1; left += step) {
            double likelihood = normal(mean - left, sampling);
            held += step * likelihood * normal(left, rough * rough);
            not += left >= LEFT * MATERIAL && left <= to ? step * likelihood / (to - LEFT * MATERIAL) : 0;
        }
        assertThat(probability(mean, cycles, before)).isCloseTo(held / (held + not), within(1e-3));
    }

    private static double normal(double x, double variance) {
        return Math.exp(-x * x / 2 / variance) / Math.sqrt(2 * Math.PI * variance);
    }

    @Test
    void probability_fallsAsMoreIsLeft_andIsCertainAtBothEnds() {
        double last = 1;
        for (double mean = -0.5; mean < 1; mean += 0.01) {
            double now = probability(mean, 6, 0.4);
            assertThat(now).isBetween(0.0, last + 1e-9);
            last = now;
        }
        assertThat(probability(-0.1, 6, 0.4)).isGreaterThan(0.98);
        assertThat(probability(0.4, 6, 0.4)).isLessThan(0.001);
        assertThat(probability(40, 6, 0.4)).as("far beyond everything").isLessThan(0.001);
    }

    /** A new part may have another normal: then the same cycles say less. */
    @Test
    void probability_replacedPart_isLessSure() {
        double asBefore = HeldOdds.probability(0.13, 4, 0.4, standing(0), CORRELATION, LEFT);
        double replaced = HeldOdds.probability(0.13, 4, 0.4, standing(0.1 * 0.1), CORRELATION, LEFT);

        assertThat(asBefore).as("as good as certain that it has not").isLessThan(0.05);
        assertThat(replaced).as("open").isBetween(0.3, 0.7);
    }

    /**
     * Looked at after every one of 20 cycles, good work is called not held at 0.98 in at most 2 of 100 cases, and work that
     * left the fault as it was is called held in as few: Ville's inequality, which the two hypotheses' mixtures obey.
     */
    @Test
    void lookingAfterEveryCycle_isWrongAsSeldomAsTheBoundSays() {
        Random random = new Random(3);
        int runs = 20_000;
        int wrongOfHeld = 0;
        int wrongOfNot = 0;
        for (int run = 0; run < runs; run++) {
            double left = 0.15 * MATERIAL * random.nextGaussian();
            double still = LEFT * MATERIAL + (1.3 * 0.3 - LEFT * MATERIAL) * random.nextDouble();
            wrongOfHeld += isEver(random, left, false) ? 1 : 0;
            wrongOfNot += isEver(random, still, true) ? 1 : 0;
        }
        assertThat(wrongOfHeld / (double) runs).isLessThan(0.02);
        assertThat(wrongOfNot / (double) runs).isLessThan(0.02);
    }

    /** Whether the bound is ever passed on the wrong side, with residuals that resemble their neighbours. */
    private static boolean isEver(Random random, double left, boolean askHeld) {
        double sum = 0;
        double deviation = random.nextGaussian();
        for (int n = 1; n <= 20; n++) {
            deviation = CORRELATION * deviation + Math.sqrt(1 - CORRELATION * CORRELATION) * random.nextGaussian();
            sum += left + Math.sqrt(NOISE) * deviation;
            double held = probability(sum / n, n, 0.3);
            if (askHeld ? held >= 0.98 : held <= 0.02) {
                return true;
            }
        }
        return false;
    }
}
