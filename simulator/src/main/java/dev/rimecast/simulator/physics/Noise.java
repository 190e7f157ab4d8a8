package dev.rimecast.simulator.physics;

import java.util.SplittableRandom;

/**
 * Random numbers that are the same on every machine and Java version for the same seed: uniform ones from
 * {@link SplittableRandom}, whose algorithm is specified, normal ones by Marsaglia's polar method in strict arithmetic.
 */
public final class Noise {
    private final SplittableRandom random;
    private final double share;
    private double spare;
    private boolean hasSpare;

    public Noise(long seed) {
        this(seed, 1);
    }

    private Noise(long seed, double share) {
        random = new SplittableRandom(seed);
        this.share = share;
    }

    /** For a bench: every factor is 1. */
    public static Noise none() {
        return new Noise(0, 0);
    }

    /** A source of its own for a named thing: adding one thing does not change the others. */
    public static Noise of(long seed, String name) {
        long hash = 0xcbf29ce484222325L;
        for (int i = 0; i < name.length(); i++) {
            hash = (hash ^ name.charAt(i)) * 0x100000001b3L;
        }
        return new Noise(seed * 0x9e3779b97f4a7c15L + hash);
    }

    /**
     * Spreads neighbouring seeds over all of them (the finaliser of MurmurHash3). The generator only adds a constant from
     * draw to draw and {@link #of} multiplies by the same one: seeds 1 and 2 give one sequence, shifted by a draw. Whoever
     * counts over many seeds must spread them first.
     */
    public static long spread(long seed) {
        long x = seed * 0x9e3779b97f4a7c15L + 1;
        x = (x ^ (x >>> 33)) * 0xff51afd7ed558ccdL;
        x = (x ^ (x >>> 33)) * 0xc4ceb9fe1a85ec53L;
        return x ^ (x >>> 33);
    }

    /** Uniform from 0 inclusive to 1 exclusive. */
    public double uniform() {
        return (random.nextLong() >>> 11) * 0x1.0p-53;
    }

    public double uniform(double low, double high) {
        return low + (high - low) * uniform();
    }

    /** Normal, mean 0, standard deviation 1. */
    public double normal() {
        if (hasSpare) {
            hasSpare = false;
            return spare;
        }
        while (true) {
            double x = 2 * uniform() - 1;
            double y = 2 * uniform() - 1;
            double square = x * x + y * y;
            if (square > 0 && square < 1) {
                double factor = StrictMath.sqrt(-2 * StrictMath.log(square) / square);
                spare = y * factor;
                hasSpare = true;
                return x * factor;
            }
        }
    }

    /** Exponential, mean 1; 1 on a bench. */
    public double exponential() {
        return share == 0 ? 1 : -StrictMath.log(1 - uniform());
    }

    /** A factor near 1, cut at three standard deviations. */
    public double factor(double deviation) {
        return 1 + share * deviation * Math.max(-3, Math.min(3, normal()));
    }
}
