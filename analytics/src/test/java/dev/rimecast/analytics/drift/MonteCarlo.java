package dev.rimecast.analytics.drift;

import java.util.SplittableRandom;
import java.util.function.DoublePredicate;
import java.util.function.Supplier;

/**
 * Run lengths of a chart on independent normal values, from many seeds.
 *
 * @param mean values to the alarm
 * @param error standard error of that mean
 */
record MonteCarlo(double mean, double error) {
    private static final int SEEDS = 20;
    private static final int RUNS_PER_SEED = 100;

    /**
     * @param firstSeed of {@value #SEEDS}
     * @param chart makes a new one, which takes a value and says whether it alarms
     */
    static MonteCarlo of(long firstSeed, double shift, Supplier<DoublePredicate> chart) {
        double sum = 0;
        double squares = 0;
        for (long seed = firstSeed; seed < firstSeed + SEEDS; seed++) {
            SplittableRandom random = new SplittableRandom(seed);
            for (int run = 0; run < RUNS_PER_SEED; run++) {
                DoublePredicate isAlarm = chart.get();
                int length = 1;
                while (!isAlarm.test(random.nextGaussian() + shift)) {
                    length++;
                }
                sum += length;
                squares += (double) length * length;
            }
        }
        int runs = SEEDS * RUNS_PER_SEED;
        double mean = sum / runs;
        return new MonteCarlo(mean, Math.sqrt((squares / runs - mean * mean) / runs));
    }
}
