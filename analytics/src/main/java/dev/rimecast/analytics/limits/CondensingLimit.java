package dev.rimecast.analytics.limits;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.Measure;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.function.Supplier;

/**
 * The condensing temperature at or over its limit, judged on arrival. Another reading within {@value #PAIR_MILLIS} ms has to be
 * near the limit, too, so that a single wild value is none: not at it, since a machine that is read once a minute stops at its
 * limit and is below it a minute later. It is over when the temperature has stayed below limit less hysteresis for
 * {@value #CLEAR_MILLIS} ms, which is longer than a freeze, since it peaks once in each.
 */
public final class CondensingLimit {
    private static final long PAIR_MILLIS = 180_000;
    private static final long CLEAR_MILLIS = 6 * 3_600_000L;
    private static final double NEAR_KELVIN = 6;
    private static final long LATELY_MILLIS = 15 * 60_000L;
    private static final long NONE = Long.MIN_VALUE;

    private long overAt = NONE;
    private float over;
    private long nearAt = NONE;

    /** @param causes what is probably wrong, asked for only when it is needed */
    public void arrived(double celsius, long millis, RuleContext context, Supplier<List<ProbableCause>> causes) {
        double limit = context.limits().condensingCelsius();
        if (celsius >= limit) {
            if (isPair(millis, nearAt)) {
                report(celsius, Math.max(millis, nearAt), context, causes);
            }
            over = millis >= overAt ? (float) celsius : over;
            overAt = Math.max(overAt, millis);
            nearAt = Math.max(nearAt, millis);
            return;
        }
        if (celsius >= limit - NEAR_KELVIN) {
            if (isPair(millis, overAt)) {
                report(over, Math.max(millis, overAt), context, causes);
            }
            nearAt = Math.max(nearAt, millis);
        }
        if (!context.isOpen(Condition.HIGH_CONDENSING_TEMPERATURE)) {
            return;
        }
        double hysteresis =
                context.policy(Condition.HIGH_CONDENSING_TEMPERATURE).get(PolicyNumber.CONDENSING_HYSTERESIS_KELVIN);
        if (celsius > limit - hysteresis) {
            overAt = Math.max(overAt, millis);
        } else if (millis - overAt > CLEAR_MILLIS) {
            context.clear(
                    Condition.HIGH_CONDENSING_TEMPERATURE,
                    millis,
                    String.format(Locale.ROOT, "Condensing temperature has stayed below %.0f °C.", limit - hysteresis));
        }
    }

    private static boolean isPair(long millis, long otherMillis) {
        return otherMillis != NONE && otherMillis != millis && Math.abs(millis - otherMillis) <= PAIR_MILLIS;
    }

    private static void report(double celsius, long millis, RuleContext context, Supplier<List<ProbableCause>> causes) {
        if (context.isOpen(Condition.HIGH_CONDENSING_TEMPERATURE)) {
            return;
        }
        double limit = context.limits().condensingCelsius();
        context.report(
                Condition.HIGH_CONDENSING_TEMPERATURE,
                millis,
                Assessment.of(
                                Stage.AT_LIMIT,
                                Priority.HIGH,
                                String.format(
                                        Locale.ROOT,
                                        "Condensing temperature is %.1f °C; the machine stops at %.0f °C.",
                                        celsius,
                                        limit),
                                PolicyNumber.CONDENSING_LIMIT_CELSIUS)
                        .causes(causes.get())
                        .measure(new Measure(
                                "condensing-temperature",
                                "Cel",
                                celsius,
                                OptionalDouble.empty(),
                                OptionalDouble.of(limit))));
    }

    /** Whether the temperature was at the limit or within a few kelvin of it lately: what a stop is probably about. */
    public boolean isNearLately(long millis) {
        return nearAt != NONE && millis - nearAt <= LATELY_MILLIS;
    }

    public void save(StateWriter out) {
        out.time(overAt).real32(over).time(nearAt);
    }

    /** @param hasValue whether it was written with how high the temperature was */
    public static CondensingLimit restore(StateReader in, boolean hasValue) {
        CondensingLimit rule = new CondensingLimit();
        rule.overAt = in.time();
        rule.over = hasValue ? in.real32() : 0;
        rule.nearAt = in.time();
        return rule;
    }
}
