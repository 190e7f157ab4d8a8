package dev.rimecast.telemetry.file.csv;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.OptionalDouble;

/** Numbers as the files write them: digits with a point, perhaps an exponent; no NaN, infinity or digit groups. */
public final class Decimals {
    /** Powers of ten that a double holds exactly. */
    private static final double[] EXACT_POWERS = {
        1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19,
        1e20, 1e21, 1e22
    };
    /** A whole number of that many digits is below 2^53, so a double holds it exactly. */
    private static final int EXACT_DIGITS = 15;

    private Decimals() {}

    public static OptionalDouble parse(String text) {
        return parse(text.toCharArray(), 0, text.length());
    }

    /** The nearest double to the decimal in {@code chars}; empty if it is none, or beyond a double. */
    public static OptionalDouble parse(char[] chars, int start, int length) {
        int end = start + length;
        int at = start;
        boolean negative = at < end && chars[at] == '-';
        if (negative || (at < end && chars[at] == '+')) {
            at++;
        }
        long digits = 0;
        int count = 0;
        int decimals = -1;
        for (; at < end; at++) {
            char c = chars[at];
            if (c >= '0' && c <= '9') {
                if (++count <= EXACT_DIGITS) {
                    digits = 10 * digits + (c - '0');
                }
                if (decimals >= 0) {
                    decimals++;
                }
            } else if (c == '.' && decimals < 0) {
                decimals = 0;
            } else {
                return count > 0 && (c == 'e' || c == 'E') ? general(chars, start, length) : OptionalDouble.empty();
            }
        }
        if (count == 0) {
            return OptionalDouble.empty();
        }
        if (count > EXACT_DIGITS) {
            return general(chars, start, length);
        }
        // Both are exact, so that the one rounding of the division gives the nearest double
        // (W. D. Clinger, How to read floating point numbers accurately, 1990, the fast path).
        double value = decimals > 0 ? digits / EXACT_POWERS[decimals] : digits;
        return OptionalDouble.of(negative ? -value : value);
    }

    private static OptionalDouble general(char[] chars, int start, int length) {
        for (int i = start; i < start + length; i++) {
            char c = chars[i];
            if (!(c >= '0' && c <= '9') && "+-.eE".indexOf(c) < 0) {
                return OptionalDouble.empty(); // Java would also read 0x1p3, 1d, NaN
            }
        }
        try {
            double value = Double.parseDouble(new String(chars, start, length));
            return Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty();
        } catch (NumberFormatException e) {
            return OptionalDouble.empty();
        }
    }

    /** The shortest plain decimal that reads back as the same double, e.g. {@code 0.4} or {@code -12}. */
    public static String shortest(double value) {
        if (value == StrictMath.rint(value) && Math.abs(value) < 1e15) {
            return Long.toString((long) value);
        }
        String text = Double.toString(value);
        return text.indexOf('E') < 0 ? text : new BigDecimal(text).toPlainString();
    }

    /** Rounded half up to that many decimals, all of them written; zero has no sign. */
    public static String fixed(double value, int decimals) {
        BigDecimal rounded = new BigDecimal(value).setScale(decimals, RoundingMode.HALF_UP);
        return rounded.toPlainString();
    }
}
