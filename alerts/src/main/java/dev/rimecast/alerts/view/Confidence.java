package dev.rimecast.alerts.view;

import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.util.List;
import java.util.Locale;

/**
 * How sure a diagnosis is, in the words that a screen shows before any percentage.
 *
 * <table>
 * <caption>Which word for the first cause (our own choice, not from a standard)</caption>
 * <tr><td>at least 60 %</td><td>likely</td></tr>
 * <tr><td>30 % up to 60 %, and at least 5 points before the second</td><td>possible</td></tr>
 * <tr><td>anything else, none at all included</td><td>cannot tell</td></tr>
 * </table>
 */
public enum Confidence {
    LIKELY,
    POSSIBLE,
    CANNOT_TELL;

    private static final double LIKELY_FROM = 0.60;
    private static final double POSSIBLE_FROM = 0.30;
    /** Two causes closer than this are not told apart. */
    private static final double APART = 0.05;

    /** @param causes most probable first */
    public static Confidence of(List<ProbableCause> causes) {
        if (causes.isEmpty()) {
            return CANNOT_TELL;
        }
        double first = causes.get(0).probability();
        if (first >= LIKELY_FROM) {
            return LIKELY;
        }
        double second = causes.size() > 1 ? causes.get(1).probability() : 0;
        return first >= POSSIBLE_FROM && first - second >= APART ? POSSIBLE : CANNOT_TELL;
    }

    public String code() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
