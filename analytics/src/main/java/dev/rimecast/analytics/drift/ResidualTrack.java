package dev.rimecast.analytics.drift;

import dev.rimecast.analytics.expect.Expected;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.analytics.statistics.Median;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;

/**
 * The residuals of one feature of one machine: has it changed, since when, and how does it go on?
 *
 * <p>Slow changes: the median residual of each block of hours, standardised by its long-run
 * deviation and by how unsure the expectation is, goes into a two-sided {@link Cusum}, and into an {@link Ewma} for what is
 * smaller than the sum allows for. Steps: each cycle's standardised residual goes into a second one with a high reference value, clipped so that
 * it takes at least three cycles. Days: see {@link #trend}.
 *
 * <table>
 * <caption>Edges</caption>
 * <tr><td>fewer cycles than a block</td><td>a block of one is a block</td></tr>
 * <tr><td>no cycles for days</td><td>no blocks; the sums stay as they are</td></tr>
 * <tr><td>wild value</td><td>clipped, and outvoted by the median</td></tr>
 * </table>
 */
public final class ResidualTrack {
    /** Cycles that are remembered one by one. */
    public static final int RECENT = 12;

    private static final int BLOCK = 16;
    private static final double CLIP_OF_BLOCK = 5;
    private static final double CLIP_OF_DAY = 4;
    private static final double DAY_CONSTANT_MILLIS = 12 * 3_600_000.0;
    /** After a long rest one cycle does not speak for the whole of it. */
    private static final double MOST_DAY_GAIN = 0.2;

    /** From this layout of a machine's state on it has what quiet days have shown. */
    private static final int WITH_QUIET_DAYS = 11;
    /** From this one on how much of what is unsure is beyond what the machine has shown. */
    private static final int WITH_PROLONGED = 16;

    private static final int PERCENT = 100;
    /** Share of its limit at which the moving average suspects something. */
    private static final double SUSPECT_AVERAGE = 0.4;

    private static final int FEWEST_CYCLES_OF_STEP = 3;
    /** Standard deviations of the expectation: it is wrong by more in one of some thousand afternoons. */
    private static final double BEYOND_DOUBT = 4;

    private static final long HOUR_MILLIS = 3_600_000;
    public static final long DAY_MILLIS = 86_400_000;

    private final short[] recent = new short[RECENT];
    private int recentCount;
    private final short[] block = new short[BLOCK];
    private int blockCount;
    private long blockNumber = Long.MIN_VALUE;
    private float noise;
    private float unsure;
    /** How much of that is beyond what the machine has shown. */
    private int prolongedPercent;

    private float dayLevel;
    private long dayLevelAt = Long.MIN_VALUE;
    private LongRunScale scale;
    private Cusum slow = new Cusum();
    private Cusum step = new Cusum();
    private Ewma average = new Ewma();
    private DayMedians days = new DayMedians();
    private QuietDays quiet = new QuietDays();
    private final LastTrends trends = new LastTrends();

    public ResidualTrack(GroupPolicy policy) {
        scale = new LongRunScale(policy.get(PolicyNumber.AUTOCORRELATION));
    }

    /**
     * Takes the residual of a cycle.
     *
     * @param residual measured less expected, on the feature's scale
     * @param expected what it was measured against
     * @param isPlaceMeasured whether air and water have sensors: what is only estimated may be wrong for a season, of which weeks
     *     show nothing
     */
    public void add(double residual, Expected expected, boolean isPlaceMeasured, long millis, GroupPolicy policy) {
        long number = Math.floorDiv(millis, Math.round(policy.get(PolicyNumber.BLOCK_HOURS) * HOUR_MILLIS));
        if (number != blockNumber && blockCount > 0) {
            closeBlock(isPlaceMeasured, policy);
        }
        blockNumber = number;
        block[blockCount % BLOCK] = Shorts.of(residual);
        blockCount++;
        followDay(residual, millis);
        noise = (float) expected.noise();
        unsure = (float) expected.unsure();
        prolongedPercent =
                expected.unsure() <= 0 ? 0 : (int) StrictMath.round(PERCENT * expected.prolonged() / expected.unsure());
        System.arraycopy(recent, 1, recent, 0, RECENT - 1);
        recent[RECENT - 1] = Shorts.of(residual);
        recentCount = Math.min(RECENT, recentCount + 1);

        double k = policy.get(PolicyNumber.STEP_REFERENCE);
        double h = policy.changeLimits().step();
        double most = k + h / (FEWEST_CYCLES_OF_STEP - 0.5);
        step.add(clip(standardOfStep(residual), most), millis, k, h);
    }

    /**
     * An expectation that is itself the doubtful part is wrong for a whole afternoon: then a step is only what is beyond all that
     * it can be wrong by.
     */
    private double standardOfStep(double residual) {
        if (unsure <= noise) {
            return residual / sigma();
        }
        double beyond = StrictMath.abs(residual) - BEYOND_DOUBT * StrictMath.sqrt(unsure);
        return StrictMath.copySign(StrictMath.max(0, beyond), residual) / StrictMath.sqrt(noise);
    }

    /** When the last residual was taken. */
    public long lastMillis() {
        return dayLevelAt;
    }

    /** Exponentially weighted by time, so that a busy hour weighs no more than a slow one; single values are held. */
    private void followDay(double residual, long millis) {
        double most = CLIP_OF_DAY * StrictMath.sqrt(noise + unsure);
        double held = dayLevelAt == Long.MIN_VALUE ? residual : dayLevel + clip(residual - dayLevel, most);
        double gain = dayLevelAt == Long.MIN_VALUE
                ? 1
                : 1 - StrictMath.exp(-StrictMath.max(0, millis - dayLevelAt) / DAY_CONSTANT_MILLIS);
        dayLevel += (float) (StrictMath.min(MOST_DAY_GAIN, gain) * (held - dayLevel));
        dayLevelAt = millis;
    }

    /** Mean residual of about the last day; 0 before the first. */
    public double dayLevel() {
        return dayLevelAt == Long.MIN_VALUE ? 0 : dayLevel;
    }

    private void closeBlock(boolean isPlaceMeasured, GroupPolicy policy) {
        double blockMillis = policy.get(PolicyNumber.BLOCK_HOURS) * HOUR_MILLIS;
        long start = Math.round(blockNumber * blockMillis);
        double median = Shorts.median(block, 0, Math.min(BLOCK, blockCount));
        double x = clip(median / StrictMath.sqrt(unsure + scale.longRunVariance() * noise), CLIP_OF_BLOCK);
        slow.add(
                x,
                start,
                policy.get(PolicyNumber.REFERENCE),
                policy.changeLimits().block());
        average.add(
                x,
                start,
                policy.get(PolicyNumber.EWMA_WEIGHT),
                policy.changeLimits().average());
        scale.learn(median / StrictMath.sqrt(noise), blockNumber);
        if (isPlaceMeasured && isQuiet(policy)) {
            quiet.learn(dayLevel, unsure, noise * scale.longRunVariance());
        }
        days.add(Math.floorDiv(start, DAY_MILLIS), median);
        blockCount = 0;
    }

    private boolean isQuiet(GroupPolicy policy) {
        return mostSum(policy) < policy.get(PolicyNumber.HOLD_LEARNING_AT)
                && StrictMath.abs(averageShare(true, policy)) < SUSPECT_AVERAGE;
    }

    private double mostSum(GroupPolicy policy) {
        return StrictMath.max(sumShare(true, policy), sumShare(false, policy));
    }

    private static double clip(double x, double most) {
        return StrictMath.max(-most, StrictMath.min(most, x));
    }

    /** Cycles since the beginning that can be asked for with {@link #recent}, at most {@value #RECENT}. */
    public int recentCount() {
        return recentCount;
    }

    /** Median residual of the last {@code cycles}, or of those there are; at least one. */
    public double recent(int cycles) {
        int n = Math.min(cycles, recentCount);
        return Shorts.median(recent, RECENT - n, RECENT);
    }

    /** The largest of the medians of each third of what is remembered, in a direction: whether all of it is below something. */
    public double mostOfThirds(boolean upward) {
        double most = Double.NEGATIVE_INFINITY;
        for (int third = 0; third < 3; third++) {
            int from = RECENT - recentCount + third * recentCount / 3;
            int to = RECENT - recentCount + (third + 1) * recentCount / 3;
            double median = to > from ? Shorts.median(recent, from, to) : 0;
            most = StrictMath.max(most, upward ? median : -median);
        }
        return most;
    }

    /** The smaller of the last two residuals in a direction; below 0 where one of them went the other way, 0 before there are two. */
    public double bothOfLast(boolean upward) {
        if (recentCount < 2) {
            return 0;
        }
        double last = Shorts.value(recent[RECENT - 1]);
        double before = Shorts.value(recent[RECENT - 2]);
        return upward ? StrictMath.min(last, before) : StrictMath.min(-last, -before);
    }

    /** Standard deviation of what the expectation itself may be wrong by, for days, on the scale. */
    public double unsure() {
        return StrictMath.sqrt(unsure);
    }

    /** The same, as far as quiet days have not shown that it is less. */
    public double provenUnsure() {
        double prolonged = unsure * prolongedPercent / PERCENT;
        return StrictMath.sqrt(quiet.proven(unsure - prolonged) + quiet.provenBeyond(prolonged));
    }

    /** Standard deviation by which a day's mean wanders by itself, on the scale; infinite while that is not known. */
    public double ownScatter() {
        return quiet.scatter();
    }

    /** Variance of what is normal for one cycle around the expectation, on the scale. */
    public double noise() {
        return noise;
    }

    /** Standard deviation of what is normal for one cycle, on the scale. */
    public double sigma() {
        return StrictMath.sqrt(noise + unsure);
    }

    /** Standard deviation of {@link #recent}: neighbouring cycles are alike, so half of them count. */
    public double error(int cycles) {
        double independent = StrictMath.max(1, StrictMath.min(cycles, recentCount) / 2.0);
        return StrictMath.sqrt(noise / independent + unsure);
    }

    /** Cycles since the sum for steps last left zero. */
    public long cyclesSinceStep(boolean upward) {
        return upward ? step.upCount() : step.downCount();
    }

    /** When that was. */
    public long stepSinceMillis(boolean upward) {
        return upward ? step.upSinceMillis() : step.downSinceMillis();
    }

    /** When the sum of block medians last left zero in this direction. */
    public long slowSinceMillis(boolean upward) {
        return upward ? slow.upSinceMillis() : slow.downSinceMillis();
    }

    /** The sum of block medians as a share of its limit: 1 is an alarm. */
    public double sumShare(boolean upward, GroupPolicy policy) {
        return (upward ? slow.up() : slow.down()) / policy.changeLimits().block();
    }

    /** The moving average of block medians as a share of its limit: 1 is an alarm, below 0 it is on the other side. */
    public double averageShare(boolean upward, GroupPolicy policy) {
        return (upward ? average.level() : -average.level())
                / policy.changeLimits().average();
    }

    /** The sum of single cycles as a share of its limit: 1 is an alarm. */
    public double stepShare(boolean upward, GroupPolicy policy) {
        return (upward ? step.up() : step.down()) / policy.changeLimits().step();
    }

    /** Whether a sum or the average is at its limit for the given direction. */
    public boolean isAlarm(boolean upward, GroupPolicy policy) {
        return isSlowAlarm(upward, policy) || isStepAlarm(upward, policy);
    }

    public boolean isSlowAlarm(boolean upward, GroupPolicy policy) {
        return sumShare(upward, policy) >= 1 || averageShare(upward, policy) >= 1;
    }

    public boolean isStepAlarm(boolean upward, GroupPolicy policy) {
        return stepShare(upward, policy) >= 1;
    }

    /** Whether a change is suspected, so that nothing should be learned from what is seen. */
    public boolean isSuspect(GroupPolicy policy) {
        double mostStep = StrictMath.max(stepShare(true, policy), stepShare(false, policy));
        return mostSum(policy) >= policy.get(PolicyNumber.HOLD_LEARNING_AT) || mostStep >= 1;
    }

    /** When the change in this direction began, as far as the sums can tell. */
    public long changeBeganMillis(boolean upward, GroupPolicy policy) {
        boolean isOfSum = sumShare(upward, policy) >= 1;
        if (averageShare(upward, policy) >= 1 && !isOfSum) {
            return average.sinceMillis();
        }
        if (isOfSum || !isStepAlarm(upward, policy)) {
            return upward ? slow.upSinceMillis() : slow.downSinceMillis();
        }
        return upward ? step.upSinceMillis() : step.downSinceMillis();
    }

    /**
     * The daily values since a time, as a trend; see {@link Trend}.
     *
     * @param growth turns a residual into what grows evenly with time
     */
    public Trend trend(long sinceMillis, double confidence, DoubleUnaryOperator growth) {
        double[] x = new double[DayMedians.DAYS];
        double[] y = new double[DayMedians.DAYS];
        int n = days.copySince(Math.floorDiv(sinceMillis, DAY_MILLIS), x, y);
        for (int i = 0; i < n; i++) {
            y[i] = growth.applyAsDouble(y[i]);
        }
        return trends.of(x, y, n, confidence);
    }

    /** Median of the {@code days} whole days before a time, on the scale; empty if none of them has a value. */
    public OptionalDouble levelBefore(long millis, int days) {
        long day = Math.floorDiv(millis, DAY_MILLIS);
        double[] x = new double[DayMedians.DAYS];
        double[] y = new double[DayMedians.DAYS];
        int n = this.days.copySince(day - days, x, y);
        int before = 0;
        while (before < n && x[before] < day) {
            before++;
        }
        return before == 0 ? OptionalDouble.empty() : OptionalDouble.of(Median.of(y, before));
    }

    /** The change is over: the sums begin anew. */
    public void reset() {
        dayLevelAt = Long.MIN_VALUE;
        dayLevel = 0;
        slow.reset();
        step.reset();
        average.reset();
    }

    public void save(StateWriter out) {
        out.whole(recentCount);
        for (int i = RECENT - recentCount; i < RECENT; i++) {
            out.short16(recent[i]);
        }
        out.whole(blockCount);
        for (int i = 0; i < Math.min(BLOCK, blockCount); i++) {
            out.short16(block[i]);
        }
        out.whole(blockNumber)
                .real32(noise)
                .real32(unsure)
                .u8(prolongedPercent)
                .real32(dayLevel)
                .time(dayLevelAt);
        scale.save(out);
        slow.save(out);
        step.save(out);
        average.save(out);
        days.save(out);
        quiet.save(out);
    }

    public static ResidualTrack restore(StateReader in, GroupPolicy policy) {
        ResidualTrack track = new ResidualTrack(policy);
        track.recentCount = in.wholeInt();
        for (int i = RECENT - track.recentCount; i < RECENT; i++) {
            track.recent[i] = in.short16();
        }
        track.blockCount = in.wholeInt();
        for (int i = 0; i < Math.min(BLOCK, track.blockCount); i++) {
            track.block[i] = in.short16();
        }
        track.blockNumber = in.whole();
        track.noise = in.real32();
        track.unsure = in.real32();
        track.prolongedPercent = in.hasLayout(WITH_PROLONGED) ? in.u8() : 0;
        track.dayLevel = in.real32();
        track.dayLevelAt = in.time();
        track.scale = LongRunScale.restore(in);
        track.slow = Cusum.restore(in);
        track.step = Cusum.restore(in);
        track.average = Ewma.restore(in);
        track.days = DayMedians.restore(in);
        track.quiet = in.hasLayout(WITH_QUIET_DAYS) ? QuietDays.restore(in) : new QuietDays();
        return track;
    }
}
