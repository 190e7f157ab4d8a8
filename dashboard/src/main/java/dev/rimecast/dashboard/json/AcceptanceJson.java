package dev.rimecast.dashboard.json;

import static dev.rimecast.dashboard.json.Rounded.orNull1;
import static dev.rimecast.dashboard.json.Rounded.to1;

import dev.rimecast.alerts.acceptance.AcceptanceView;
import dev.rimecast.alerts.acceptance.Kin;
import dev.rimecast.telemetry.cycle.Acceptance;
import dev.rimecast.telemetry.cycle.Acceptance.Rating;
import dev.rimecast.telemetry.cycle.Acceptance.Shown;
import dev.rimecast.telemetry.finding.Condition;
import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * How a machine did in its first cycles.
 *
 * @param last whether nothing will follow
 * @param wrong conditions that were open then
 */
public record AcceptanceJson(
        String reason,
        Instant began,
        Instant at,
        int cycles,
        String verdict,
        boolean last,
        String probes,
        @Nullable Double ambientC,
        @Nullable Double waterC,
        List<FigureJson> figures,
        @Nullable RatingJson rating,
        List<String> wrong) {
    public AcceptanceJson {
        figures = List.copyOf(figures);
        wrong = List.copyOf(wrong);
    }

    /**
     * @param low least that its kind does in these conditions, in the unit
     * @param verdict by its kind and by the others together
     */
    public record FigureJson(
            String feature,
            String unit,
            double measured,
            double expected,
            double low,
            double high,
            int cycles,
            String verdict,
            @Nullable KinJson kin) {}

    /** What others of its model group did. */
    public record KinJson(int others, double low, double high) {}

    public record RatingJson(double ratedKgPerDay, double allowedKgPerDay, double madeKgPerDay, String verdict) {}

    static AcceptanceJson of(AcceptanceView view) {
        Acceptance said = view.acceptance();
        return new AcceptanceJson(
                said.reason().code(),
                said.began(),
                view.at(),
                said.cycles(),
                view.verdict().code(),
                said.isLast(),
                said.probes().code(),
                orNull1(said.ambientCelsius()),
                orNull1(said.waterCelsius()),
                said.shown().stream().map(shown -> figure(view, shown)).toList(),
                said.rating().map(AcceptanceJson::rating).orElse(null),
                said.wrong().stream().map(Condition::code).toList());
    }

    private static FigureJson figure(AcceptanceView view, Shown shown) {
        return new FigureJson(
                shown.feature().code(),
                shown.feature().unit(),
                to1(shown.measured()),
                to1(shown.expected()),
                to1(shown.low()),
                to1(shown.high()),
                shown.cycles(),
                AcceptanceView.both(shown.verdict(), view.kinOf(shown.feature()))
                        .code(),
                view.kinOf(shown.feature()).map(AcceptanceJson::kin).orElse(null));
    }

    private static KinJson kin(Kin kin) {
        return new KinJson(kin.others(), to1(kin.low()), to1(kin.high()));
    }

    private static RatingJson rating(Rating rating) {
        return new RatingJson(
                to1(rating.ratedKgPerDay()),
                to1(rating.allowedKgPerDay()),
                to1(rating.madeKgPerDay()),
                rating.verdict().code());
    }
}
