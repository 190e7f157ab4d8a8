package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.ProofView;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.proof.Proof;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Whether work on a machine has held.
 *
 * @param about conditions that were there when the work was recorded
 * @param more cycles until it is certain, if they are like those until now
 * @param looks what was said at each look, in order
 */
public record ProofOfFixJson(
        UUID id,
        Instant workedAt,
        Instant at,
        Optional<String> cause,
        List<String> about,
        String check,
        String verdict,
        @Nullable Double probability,
        int cycles,
        @Nullable Integer more,
        List<String> raisedSince,
        List<ShownJson> shown,
        boolean last,
        String summary,
        List<LookJson> looks) {

    /** A feature of the last cycle that was judged, in its SenML unit. */
    public record ShownJson(
            String feature,
            String unit,
            @Nullable Double before,
            double measured,
            double expected,
            double sigma,
            int cycles,
            double probability) {}

    public record LookJson(String check, Instant at, String verdict, String summary) {}

    public static ProofOfFixJson of(ProofView view) {
        Proof proof = view.proof();
        return new ProofOfFixJson(
                proof.id(),
                proof.workedAt(),
                proof.at(),
                proof.cause().map(Cause::code),
                proof.about().stream().map(Condition::code).toList(),
                proof.check().code(),
                proof.verdict().code(),
                orNull(proof.probability(), 3),
                proof.cycles(),
                proof.more().isPresent() ? Integer.valueOf(proof.more().getAsInt()) : null,
                proof.raisedSince().stream().map(Condition::code).toList(),
                proof.shown().stream().map(ProofOfFixJson::shown).toList(),
                proof.isLast(),
                proof.summary(),
                view.looks().stream()
                        .map(look -> new LookJson(
                                look.check().code(), look.at(), look.verdict().code(), look.summary()))
                        .toList());
    }

    private static ShownJson shown(Proof.Shown shown) {
        return new ShownJson(
                shown.feature().code(),
                shown.feature().unit(),
                orNull(shown.before(), 2),
                rounded(shown.measured(), 2),
                rounded(shown.expected(), 2),
                rounded(shown.sigma(), 3),
                shown.cycles(),
                rounded(shown.probability(), 3));
    }

    private static @Nullable Double orNull(OptionalDouble value, int decimals) {
        return value.isPresent() ? Double.valueOf(rounded(value.getAsDouble(), decimals)) : null;
    }

    private static double rounded(double value, int decimals) {
        double power = Math.pow(10, decimals);
        return Math.round(value * power) / power;
    }
}
