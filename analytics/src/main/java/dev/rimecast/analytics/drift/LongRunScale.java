package dev.rimecast.analytics.drift;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * The long-run variance of block medians, which still resemble their neighbours: on values divided by its root a cumulative
 * sum has about the run length that it has on independent ones (Johnson and Bagshaw 1974). For a first-order autoregression
 * with variance q and correlation φ it is {@code q (1 + φ) / (1 - φ)} (Box, Jenkins and Reinsel 1994, section 3.2.3).
 *
 * <p>q and φ are learned from the machine's own blocks, from a prior that weighs as much as {@value #PRIOR_BLOCKS} blocks;
 * each block is taken against the mean of the last days, so that a slow fault does not count as scatter, while hours and days
 * that differ (a weekend, a door, a heat wave) do. Squares are clipped at three deviations. That mean takes something away, so
 * {@value #LEFT_OUT} is put on top: by Monte Carlo (see the test) that keeps the rate of false alarms where strongly
 * correlated residuals are concerned.
 */
final class LongRunScale {
    /** Variance of a block median over that of a cycle's noise: 0.25 would be independent cycles in fours. */
    private static final float PRIOR_VARIANCE = 0.5f;

    private static final int PRIOR_BLOCKS = 20;
    private static final int MOST_BLOCKS = 200;
    private static final double LEAST_VARIANCE = 0.12;
    private static final double MOST_CORRELATION = 0.9;
    private static final double LEFT_OUT = 2;
    private static final double CLIP = 3;
    /** Of the mean of the last days: about four of them. */
    private static final double MEAN_GAIN = 1.0 / 48;

    private float variance = PRIOR_VARIANCE;
    private float lagged;
    private float last;
    private float mean;
    private long lastBlock = Long.MIN_VALUE;
    private int blocks;

    LongRunScale(double priorCorrelation) {
        lagged = (float) (PRIOR_VARIANCE * priorCorrelation);
    }

    /** In units of the variance of a cycle's noise. */
    double longRunVariance() {
        double phi = StrictMath.max(0, StrictMath.min(MOST_CORRELATION, lagged / variance));
        return LEFT_OUT * StrictMath.max(LEAST_VARIANCE, variance) * (1 + phi) / (1 - phi);
    }

    /** @param median of a block, in standard deviations of a cycle's noise */
    void learn(double median, long block) {
        double gain = 1.0 / (PRIOR_BLOCKS + StrictMath.min(blocks, MOST_BLOCKS));
        double most = CLIP * StrictMath.sqrt(variance);
        double clipped = StrictMath.max(-most, StrictMath.min(most, median - mean));
        mean += (float) (StrictMath.max(gain, MEAN_GAIN) * (median - mean));
        variance += (float) (gain * (clipped * clipped - variance));
        if (block == lastBlock + 1) {
            lagged += (float) (gain * (clipped * last - lagged));
        }
        last = (float) clipped;
        lastBlock = block;
        blocks++;
    }

    void save(StateWriter out) {
        out.real32(variance)
                .real32(lagged)
                .real32(last)
                .real32(mean)
                .whole(lastBlock)
                .whole(blocks);
    }

    static LongRunScale restore(StateReader in) {
        LongRunScale scale = new LongRunScale(0);
        scale.variance = in.real32();
        scale.lagged = in.real32();
        scale.last = in.real32();
        scale.mean = in.real32();
        scale.lastBlock = in.whole();
        scale.blocks = in.wholeInt();
        return scale;
    }
}
