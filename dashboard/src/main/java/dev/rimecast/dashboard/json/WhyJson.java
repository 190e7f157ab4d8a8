package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Thresholds;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Ground;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Why an alert went off: what was seen when it was raised, and the numbers that decided.
 *
 * @param policyVersion of the thresholds under which it was raised; they hold for it until it is over
 * @param raised its first revision
 * @param now the latest, where it says something else
 */
public record WhyJson(
        UUID alert,
        Optional<String> machine,
        Optional<String> gateway,
        String site,
        String siteName,
        String condition,
        String detectorVersion,
        String policyVersion,
        LookJson raised,
        Optional<LookJson> now) {

    /** What was seen, and by which numbers it was judged. */
    public record LookJson(
            Instant at,
            String stage,
            String summary,
            Optional<AlertJson.MeasureJson> measure,
            List<GroundJson> decidedBy) {}

    /**
     * A number that decided.
     *
     * @param entry where it stands in the policy, else in the register or the detector
     * @param source whose number it is
     * @param standard what it would be without the firm's own; left out where no policy has it
     * @param about its unit, and what moves when it changes; left out where no policy has it
     */
    public record GroundJson(
            String entry,
            double value,
            String unit,
            String source,
            @Nullable Double standard,
            Optional<String> about) {}

    /** @param first the revision that raised it */
    public static WhyJson of(AlertView view, Finding first, Thresholds thresholds) {
        Finding latest = view.finding();
        boolean isSame = latest.summary().equals(first.summary())
                && latest.stage() == first.stage()
                && latest.grounds().equals(first.grounds());
        return new WhyJson(
                first.id(),
                first.machine(),
                first.gateway(),
                latest.site(),
                view.siteName(),
                first.condition().code(),
                first.detectorVersion(),
                first.policyVersion(),
                look(first, thresholds),
                isSame ? Optional.empty() : Optional.of(look(latest, thresholds)));
    }

    private static LookJson look(Finding finding, Thresholds thresholds) {
        return new LookJson(
                finding.at(),
                finding.stage().code(),
                finding.summary(),
                finding.measure().map(AlertJson::measure),
                finding.grounds().stream()
                        .map(ground -> ground(ground, thresholds))
                        .toList());
    }

    private static GroundJson ground(Ground ground, Thresholds thresholds) {
        Optional<Thresholds.Explained> explained = thresholds.of(ground.entry());
        return new GroundJson(
                ground.entry(),
                ground.value(),
                ground.unit(),
                ground.source().code(),
                explained.map(Thresholds.Explained::standard).orElse(null),
                explained.map(Thresholds.Explained::text).filter(text -> !text.isEmpty()));
    }
}
