package dev.rimecast.telemetry.cycle;

import dev.rimecast.telemetry.finding.Condition;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * How a machine does in its first cycles, against its kind and its rating, as it stands after one more of them. A later one says
 * the same thing anew; the one of most cycles counts.
 *
 * @param began since when its cycles count: the move or the exchange, else the start of the first freeze that was seen
 * @param cycles complete cycles since then
 * @param probes whether the two temperatures are known to be each their own
 * @param ambientCelsius mean of the cycles that were judged; absent where it is not known
 * @param waterCelsius likewise
 * @param shown the figures behind it; absent features could not be judged
 * @param rating what was made against what the rating allows in these conditions; absent where the ice is not counted
 * @param wrong conditions that are open at the machine
 * @param isLast whether nothing will follow
 * @param summary one or two sentences for a person, with numbers and units
 */
public record Acceptance(
        Reason reason,
        Instant began,
        int cycles,
        Verdict verdict,
        Probes probes,
        OptionalDouble ambientCelsius,
        OptionalDouble waterCelsius,
        List<Shown> shown,
        Optional<Rating> rating,
        List<Condition> wrong,
        boolean isLast,
        String summary) {

    public Acceptance {
        shown = List.copyOf(shown);
        wrong = List.copyOf(wrong);
    }

    /** Why a machine is looked at anew. */
    public enum Reason {
        /** Nothing was known of it here. */
        FIRST_SEEN,
        MOVED,
        EXCHANGED;

        private final String code = codeOf(name());

        public String code() {
            return code;
        }

        public static Optional<Reason> ofCode(String code) {
            return List.of(values()).stream()
                    .filter(value -> value.code.equals(code))
                    .findFirst();
        }
    }

    public enum Verdict {
        NOT_YET_KNOWN,
        ACCEPTED,
        NOT_ACCEPTED;

        private final String code = codeOf(name());

        /** The word of the contract. */
        public String code() {
            return code;
        }

        public static Optional<Verdict> ofCode(String code) {
            return List.of(values()).stream()
                    .filter(value -> value.code.equals(code))
                    .findFirst();
        }
    }

    /** What the first harvest shows of the two probes. */
    public enum Probes {
        NOT_YET_KNOWN,
        /** The plate froze and warmed up in the harvest, while the condenser stayed warm. */
        TOLD_APART,
        SWAPPED;

        private final String code = codeOf(name());

        public String code() {
            return code;
        }

        public static Optional<Probes> ofCode(String code) {
            return List.of(values()).stream()
                    .filter(value -> value.code.equals(code))
                    .findFirst();
        }
    }

    /**
     * One feature in the mean of the cycles that were judged, in its unit.
     *
     * @param measured mean of the cycles
     * @param expected what a machine of its kind does in these conditions
     * @param low least that its kind does
     * @param high most
     * @param cycles that were judged
     * @param verdict of this feature alone
     */
    public record Shown(
            Feature feature, double measured, double expected, double low, double high, int cycles, Verdict verdict) {}

    /**
     * Ice by what the machine counts.
     *
     * @param ratedKgPerDay of the register, at the rating conditions
     * @param allowedKgPerDay what that is in the conditions of the cycles
     * @param madeKgPerDay by the ice and the length of the cycles
     */
    public record Rating(double ratedKgPerDay, double allowedKgPerDay, double madeKgPerDay, Verdict verdict) {}

    private static String codeOf(String name) {
        return name.toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
