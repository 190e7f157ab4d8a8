package dev.rimecast.dashboard.json;

import static dev.rimecast.dashboard.json.Rounded.to1;
import static dev.rimecast.dashboard.json.Rounded.to2;
import static dev.rimecast.dashboard.json.Rounded.to3;

import dev.rimecast.alerts.view.WeighedHarvest;
import dev.rimecast.alerts.view.WeighedHarvest.Rate;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * A weighed harvest.
 *
 * @param rate absent where its cycle or the place is not known
 */
public record WeighedJson(
        Instant time,
        double kilograms,
        @Nullable String by,
        @Nullable RateJson rate) {

    /** @param enough whether it is at least 85 % of what the rating allows */
    public record RateJson(
            double cycleSeconds, double kgPerDay, double allowedKgPerDay, double share, boolean enough) {}

    public static WeighedJson of(WeighedHarvest harvest) {
        return new WeighedJson(
                harvest.at(),
                to2(harvest.kilograms()),
                harvest.by().isEmpty() ? null : harvest.by(),
                harvest.rate().map(WeighedJson::rate).orElse(null));
    }

    private static RateJson rate(Rate rate) {
        return new RateJson(
                to1(rate.cycle().toMillis() / 1000.0),
                to1(rate.kgPerDay()),
                to1(rate.allowedKgPerDay()),
                to3(rate.share()),
                rate.isEnough());
    }
}
