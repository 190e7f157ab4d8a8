package dev.rimecast.analytics.fourthfleet;

import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;

/** Everything that is left to chance, from a seed. */
final class Chance implements Scatter {
    private final SplittableRandom random;

    Chance(long seed) {
        this(new SplittableRandom(seed));
    }

    private Chance(SplittableRandom random) {
        this.random = random;
    }

    Chance split() {
        return new Chance(random.split());
    }

    double unit() {
        return random.nextDouble();
    }

    int below(int bound) {
        return random.nextInt(bound);
    }

    boolean hit(double probability) {
        return random.nextDouble() < probability;
    }

    double gauss() {
        return random.nextGaussian();
    }

    /** Standard normal, drawn again until it lies within so many deviations. */
    double within(double limit) {
        double z = gauss();
        while (Math.abs(z) > limit) {
            z = gauss();
        }
        return z;
    }

    @Override
    public double about(double deviation, double limit) {
        return 1 + deviation * within(limit);
    }

    @Override
    public double between(double low, double high) {
        return low + (high - low) * random.nextDouble();
    }

    @Override
    public double gauss(double deviation) {
        return deviation * gauss();
    }

    /** Exponential waiting time. */
    double waiting(double mean) {
        return -Math.log(1 - random.nextDouble()) * mean;
    }

    void shuffle(List<?> list) {
        for (int i = list.size(); i > 1; i--) {
            Collections.swap(list, i - 1, random.nextInt(i));
        }
    }
}
