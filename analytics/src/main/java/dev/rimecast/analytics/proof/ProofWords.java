package dev.rimecast.analytics.proof;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.proof.Check;
import dev.rimecast.telemetry.proof.Proof.Shown;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.OptionalInt;

/** What is said of a proof, for somebody who stands before the machine. */
final class ProofWords {
    private static final int MINUTES_FROM = 100;

    private ProofWords() {}

    static String back(Finding finding) {
        return "It is back: " + finding.summary();
    }

    static String of(FixProof proof, List<Shown> shown, OptionalInt more) {
        if (proof.complete() == 0) {
            return "No whole cycle has been made since the work.";
        }
        String numbers = shown.stream()
                .min(Comparator.comparingDouble(Shown::probability))
                .map(ProofWords::numbers)
                .orElse("");
        String separator = numbers.isEmpty() ? "" : " ";
        return numbers + separator + verdict(proof, more) + cycles(proof);
    }

    private static String numbers(Shown shown) {
        Feature feature = shown.feature();
        Scale scale = Scale.of(feature, shown.measured());
        String before = shown.before().isPresent()
                ? String.format(
                        Locale.ROOT, " (%s before)", scale.text(shown.before().getAsDouble()))
                : "";
        return String.format(
                Locale.ROOT,
                "%s %s %s, expected %s ± %s%s.",
                name(feature),
                scale.text(shown.measured()),
                scale.unit(),
                scale.text(shown.expected()),
                scale.text(2 * shown.sigma()),
                before);
    }

    /** In which unit a sentence gives its numbers. */
    private record Scale(String unit, double factor, int decimals) {
        static Scale of(Feature feature, double value) {
            return switch (feature.unit()) {
                case "s" -> value >= MINUTES_FROM ? new Scale("min", 1 / 60.0, 1) : new Scale("s", 1, 1);
                case "K" -> new Scale("K", 1, 1);
                case "kg" -> new Scale("kg", 1, 2);
                default -> new Scale("°C", 1, 1);
            };
        }

        String text(double value) {
            return String.format(Locale.ROOT, "%." + decimals + "f", value * factor);
        }
    }

    private static String verdict(FixProof proof, OptionalInt more) {
        return switch (proof.verdict()) {
            case HELD -> proof.check() == Check.THIRTY_DAYS ? "Held for 30 days." : "Held.";
            case HELD_SO_FAR ->
                proof.isSlow() && proof.check() != Check.FIRST_CYCLES
                        ? "Held so far; a leak that was topped up shows only after weeks."
                        : "Held so far" + more(more) + '.';
            case NOT_HELD -> "Not held: it is not as it should be.";
            case NOT_YET_KNOWN -> "Not yet known" + more(more) + '.';
        };
    }

    private static String more(OptionalInt more) {
        if (more.isEmpty() || more.getAsInt() == 0) {
            return "";
        }
        int cycles = more.getAsInt();
        return cycles == 1 ? "; one more cycle makes it certain" : "; " + cycles + " more cycles make it certain";
    }

    private static String cycles(FixProof proof) {
        int cycles = proof.complete();
        return proof.check().compareTo(Check.TEN_CYCLES) > 0
                ? ""
                : cycles == 1 ? " 1 cycle since the work." : ' ' + String.valueOf(cycles) + " cycles since the work.";
    }

    private static String name(Feature feature) {
        return switch (feature) {
            case PULL_DOWN -> "0 °C after";
            case FREEZE -> "Freeze of";
            case HARVEST -> "Harvest of";
            case SPLIT -> "Condensing temperature over ambient";
            case EVAPORATOR_END -> "Lowest evaporator temperature";
            case DRAIN_LEVEL -> "Drain level signal of";
            case DRAIN_RUN -> "Drain pump run of";
            case FILL -> "Water fill of";
            case WATER_USE -> "Water of the cycle:";
            case ICE_MADE -> "Ice of the cycle:";
        };
    }
}
