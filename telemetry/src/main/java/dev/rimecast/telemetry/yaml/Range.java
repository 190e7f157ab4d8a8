package dev.rimecast.telemetry.yaml;

import java.math.BigDecimal;
import java.util.OptionalDouble;

/** What a number may be, ends included unless it says otherwise. */
public final class Range {
    /** Any finite number. */
    public static final Range ANY = new Range(-Double.MAX_VALUE, Double.MAX_VALUE, false);

    private final double low;
    private final double high;
    private final boolean openBelow;

    private Range(double low, double high, boolean openBelow) {
        if (!(low <= high)) {
            throw new IllegalArgumentException("low " + low + " must not be above high " + high);
        }
        this.low = low;
        this.high = high;
        this.openBelow = openBelow;
    }

    /** From {@code low} to {@code high}, both included. */
    public static Range of(double low, double high) {
        return new Range(low, high, false);
    }

    public static Range atLeast(double low) {
        return new Range(low, Double.MAX_VALUE, false);
    }

    /** Greater than {@code low}. */
    public static Range above(double low) {
        return new Range(low, Double.MAX_VALUE, true);
    }

    public boolean contains(double value) {
        return value <= high && (openBelow ? value > low : value >= low);
    }

    /** The least that it may be; empty where there is none, also where the least is not reached. */
    public OptionalDouble least() {
        return openBelow || low == -Double.MAX_VALUE ? OptionalDouble.empty() : OptionalDouble.of(low);
    }

    /** The most that it may be; empty where there is none. */
    public OptionalDouble most() {
        return high == Double.MAX_VALUE ? OptionalDouble.empty() : OptionalDouble.of(high);
    }

    /** A value inside, to go on with when the document's can't be used. */
    double placeholder() {
        double inside = openBelow ? low + 1 : low;
        return contains(0) ? 0 : inside;
    }

    /** As it reads after "must be". */
    @Override
    public String toString() {
        if (low == -Double.MAX_VALUE) {
            return high == Double.MAX_VALUE ? "a number" : "at most " + plain(high);
        }
        if (high == Double.MAX_VALUE) {
            return (openBelow ? "above " : "at least ") + plain(low);
        }
        return "from " + plain(low) + " to " + plain(high);
    }

    private static String plain(double value) {
        return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
    }
}
