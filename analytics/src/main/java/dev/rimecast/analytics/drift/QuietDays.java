package dev.rimecast.analytics.drift;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * What a machine shows while nothing is suspected: how far it wanders from day to day by itself, and how wrong its expectation
 * really is, beside how wrong it may be.
 *
 * <p>The expectation allows for sensors that are off by some tenths of a kelvin and for slopes that bend. Where weeks have shown
 * that it is right to a third of that, a change of a third counts. What a suspicion covers is left out, so that a fault that
 * grows does not pass for restlessness.
 */
final class QuietDays {
    /** Before so many blocks nothing is known of a machine's restlessness; some four days. */
    private static final int FEWEST_BLOCKS = 40;

    private static final int PRIOR_BLOCKS = 60;
    private static final int MOST_BLOCKS = 300;
    /** Blocks of running in a day. */
    private static final double BLOCKS_A_DAY = 6;
    /** One wild day does not make the expectation wrong. */
    private static final double MOST_OF_ONE = 4;
    /** A quarter of the standard deviation: a year has conditions that some weeks have not shown. */
    private static final double LEAST_OF_VARIANCE = 0.06;

    private static final double LEAST_BEYOND = 0.25;

    private float scatter = Float.POSITIVE_INFINITY;
    private float wrong = 1;
    private int blocks;

    /**
     * A block has passed without a suspicion.
     *
     * @param dayLevel residual of about a day
     * @param unsure variance of the expectation, as it is claimed
     * @param ofBlocks long-run variance of a block's median
     */
    void learn(double dayLevel, double unsure, double ofBlocks) {
        blocks = Math.min(MOST_BLOCKS, blocks + 1);
        double ratio = unsure <= 0 ? MOST_OF_ONE : StrictMath.min(MOST_OF_ONE, dayLevel * dayLevel / unsure);
        wrong += (float) ((ratio - wrong) / (PRIOR_BLOCKS + blocks));
        scatter = (float) StrictMath.sqrt(ofBlocks / BLOCKS_A_DAY);
    }

    /** Standard deviation of a day's mean by itself, on the scale; infinite while it is not known. */
    double scatter() {
        return blocks < FEWEST_BLOCKS ? Double.POSITIVE_INFINITY : scatter;
    }

    /** What is left of a claimed variance of the expectation, by what it has been wrong by. */
    double proven(double unsure) {
        return unsure * StrictMath.max(LEAST_OF_VARIANCE, StrictMath.min(1, wrong));
    }

    /**
     * The same of what is beyond the conditions that were learned: quiet days elsewhere say little of it. Half of its standard deviation is
     * left at least.
     */
    double provenBeyond(double unsure) {
        return unsure * StrictMath.max(LEAST_BEYOND, StrictMath.min(1, wrong));
    }

    void save(StateWriter out) {
        out.real32(scatter).real32(wrong).whole(blocks);
    }

    static QuietDays restore(StateReader in) {
        QuietDays days = new QuietDays();
        days.scatter = in.real32();
        days.wrong = in.real32();
        days.blocks = in.wholeInt();
        return days;
    }
}
