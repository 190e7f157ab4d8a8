package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.drift.ResidualTrack;
import dev.rimecast.analytics.drift.Trend;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.expect.FeatureScale;
import dev.rimecast.analytics.expect.SiteWeather;
import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.ControllerLimits;
import dev.rimecast.analytics.policy.FeatureNumber;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Finding.Measure;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** Puts a residual that has changed into an assessment: number, date, urgency, words. */
final class DriftReport {
    private static final double MUCH = 2;
    private static final long DAY_MILLIS = 86_400_000;
    private static final int TREND_DAYS = 14;
    /** Only these have a limit in their machine's controller, and so a date. */
    private static final Set<Feature> LIMITED =
            Collections.unmodifiableSet(EnumSet.of(Feature.PULL_DOWN, Feature.SPLIT, Feature.DRAIN_LEVEL));

    private final Feature feature;
    private final Watched watched;
    private final Conditions now;
    private final GroupPolicy policy;
    private final double splitKelvin;

    /** @param now conditions of the cycle at hand */
    DriftReport(Feature feature, Watched watched, Conditions now, GroupPolicy policy) {
        this.feature = feature;
        this.watched = watched;
        this.now = now;
        this.policy = policy;
        this.splitKelvin =
                feature == Feature.SPLIT ? watched.expect(now, policy).mean() : 0;
    }

    /** The daily values since the change began, of the last {@value #TREND_DAYS} days at most. */
    private Trend trend(boolean upward, long millis) {
        ResidualTrack track = watched.track();
        long began = track.changeBeganMillis(upward, policy);
        return track.trend(
                Math.max(began - DAY_MILLIS, millis - TREND_DAYS * DAY_MILLIS),
                Forecast.CONFIDENCE,
                residual -> growth(residual, splitKelvin));
    }

    /**
     * What grows evenly with time. A condenser that loses its conductance evenly has a split that grows faster and faster, as
     * one over what is left; the share lost, 1 - expected/measured, is what grows evenly (split = heat / conductance). Other
     * features are taken as they are on their scale.
     */
    private double growth(double residual, double expectedSplit) {
        return feature == Feature.SPLIT ? residual / StrictMath.max(1, expectedSplit + residual) : residual;
    }

    /** All of {@link #early} but measure and words. */
    Assessment bare(Optional<LimitExpected> date, List<ProbableCause> causes, long millis) {
        return new Assessment(
                Stage.EARLY,
                priority(watched.level(policy), date, millis),
                causes,
                Optional.empty(),
                date,
                "",
                decidedBy());
    }

    private List<Threshold> decidedBy() {
        return List.of(
                new Threshold.OfFeature(feature, FeatureNumber.MATERIAL),
                PolicyNumber.FALSE_ALARMS_PER_YEAR,
                PolicyNumber.BEYOND_UNSURE,
                PolicyNumber.OWN_SCATTER,
                PolicyNumber.TOGETHER_SHARE);
    }

    /**
     * @param limits where the machine's own controller stops
     * @param date when it gets there
     * @param isWeatherKnown whether the date goes by the weather that is expected
     */
    Assessment early(
            ControllerLimits limits,
            Optional<LimitExpected> date,
            boolean isWeatherKnown,
            List<ProbableCause> causes,
            long millis) {
        double level = watched.level(policy);
        double mean = watched.expect(now, policy).mean();
        double value = FeatureScale.toUnit(feature, mean + level);
        double expected = FeatureScale.toUnit(feature, mean);
        String text = Words.early(feature, level, value, expected)
                + date.map(d -> Words.date(feature, d, isWeatherKnown)).orElse("");
        return new Assessment(
                Stage.EARLY,
                priority(level, date, millis),
                causes,
                Optional.of(
                        new Measure(feature.code(), feature.unit(), value, OptionalDouble.of(expected), limit(limits))),
                date,
                text,
                decidedBy());
    }

    /** In the feature's unit. */
    private OptionalDouble limit(ControllerLimits limits) {
        return switch (feature) {
            case PULL_DOWN -> OptionalDouble.of(limits.pullDownSeconds());
            case DRAIN_LEVEL -> OptionalDouble.of(limits.drainLevelSeconds());
            case SPLIT, FREEZE, HARVEST, EVAPORATOR_END, DRAIN_RUN, FILL, WATER_USE, ICE_MADE -> OptionalDouble.empty();
        };
    }

    private Priority priority(double level, Optional<LimitExpected> date, long millis) {
        if (date.isEmpty()) {
            boolean isMuch = StrictMath.abs(level) >= MUCH * watched.material(policy);
            return isMuch ? Priority.MEDIUM : Priority.LOW;
        }
        Duration left =
                Duration.between(Instant.ofEpochMilli(millis), date.get().at());
        double days = left.toMillis() / (double) DAY_MILLIS;
        if (days <= policy.get(PolicyNumber.HIGH_DAYS)) {
            return Priority.HIGH;
        }
        return days <= policy.get(PolicyNumber.MEDIUM_DAYS) ? Priority.MEDIUM : Priority.LOW;
    }

    /** The date for a feature that its machine's controller limits. */
    Optional<LimitExpected> date(
            ControllerLimits limits,
            PlaceDays days,
            SiteWeather weather,
            double peakKelvin,
            boolean upward,
            long millis) {
        if (!LIMITED.contains(feature) || days.usualAir() == Double.NEGATIVE_INFINITY) {
            return Optional.empty();
        }
        Conditions warmest = conditions(days.warmestAhead(weather).orElseGet(days::warmestAir), days.warmestWater());
        Conditions usual = conditions(days.usualAir(), days.warmestWater());
        return Forecast.of(
                trend(upward, millis),
                growth(watched.level(policy), splitKelvin),
                growth(residualAtLimit(limits, warmest, peakKelvin), splitKelvin),
                growth(residualAtLimit(limits, usual, peakKelvin), splitKelvin),
                millis,
                policy.get(PolicyNumber.HORIZON_DAYS));
    }

    private double residualAtLimit(ControllerLimits limits, Conditions place, double peakKelvin) {
        double mean = watched.expect(place, policy).mean();
        return switch (feature) {
            case PULL_DOWN -> StrictMath.log(limits.pullDownSeconds()) - mean;
            case SPLIT -> limits.condensingCelsius() - place.ambientCelsius() - peakKelvin - mean;
            case DRAIN_LEVEL -> StrictMath.log(limits.drainLevelSeconds()) - mean;
            case FREEZE, HARVEST, EVAPORATOR_END, DRAIN_RUN, FILL, WATER_USE, ICE_MADE -> Double.POSITIVE_INFINITY;
        };
    }

    private static Conditions conditions(double air, double water) {
        return new Conditions(air, 0, "", water, 0, "");
    }

    /** Sentences with numbers and units. */
    static final class Words {
        private Words() {}

        static String early(Feature feature, double level, double value, double expected) {
            if (FeatureScale.isRatio(feature)) {
                double percent = 100 * StrictMath.expm1(level);
                return isAmount(feature)
                        ? String.format(
                                Locale.ROOT,
                                "%s is %.2f kg, %.0f %% %s than the %.2f kg that it should be in these conditions.",
                                name(feature),
                                value,
                                StrictMath.abs(percent),
                                percent > 0 ? "more" : "less",
                                expected)
                        : String.format(
                                Locale.ROOT,
                                "%s takes %s, %.0f %% %s than the %s that this machine should take in these conditions.",
                                name(feature),
                                seconds(value),
                                StrictMath.abs(percent),
                                percent > 0 ? "longer" : "less",
                                seconds(expected));
            }
            String unit = feature == Feature.SPLIT ? "K" : "°C";
            return String.format(
                    Locale.ROOT,
                    "%s is %.1f %s, %.1f K %s the %.1f %s that this machine should show in these conditions.",
                    name(feature),
                    value,
                    unit,
                    StrictMath.abs(level),
                    level > 0 ? "above" : "below",
                    expected,
                    unit);
        }

        static String date(Feature feature, LimitExpected date, boolean isWeatherKnown) {
            String warmest = isWeatherKnown
                    ? " on the warmest day of the weather that is expected"
                    : " on a day as warm as the warmest of the last two weeks";
            return String.format(
                    Locale.ROOT,
                    " At this rate the limit is reached around %s (%s to %s)%s.",
                    day(date.at()),
                    day(date.early()),
                    day(date.late()),
                    feature == Feature.DRAIN_LEVEL ? "" : warmest);
        }

        private static boolean isAmount(Feature feature) {
            return feature == Feature.WATER_USE || feature == Feature.ICE_MADE;
        }

        private static String day(Instant at) {
            return at.atZone(ZoneOffset.UTC).toLocalDate().toString();
        }

        private static String seconds(double value) {
            return value < 20
                    ? String.format(Locale.ROOT, "%.1f s", value)
                    : String.format(Locale.ROOT, "%.0f s", value);
        }

        private static String name(Feature feature) {
            return switch (feature) {
                case PULL_DOWN -> "Pull-down to 0 °C";
                case FREEZE -> "A freeze";
                case HARVEST -> "A harvest";
                case SPLIT -> "Condensing temperature over ambient";
                case EVAPORATOR_END -> "Lowest evaporator temperature";
                case DRAIN_LEVEL -> "The drain level signal";
                case DRAIN_RUN -> "A drain pump run";
                case FILL -> "A water fill";
                case WATER_USE -> "Water used per cycle";
                case ICE_MADE -> "Ice made per cycle";
            };
        }
    }
}
