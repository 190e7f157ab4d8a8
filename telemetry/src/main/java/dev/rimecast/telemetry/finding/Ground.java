package dev.rimecast.telemetry.finding;

import java.util.Locale;
import java.util.Optional;

/**
 * A number that decided that a finding was raised, as it was in force for its subject at that moment.
 *
 * @param entry where it stands: the dotted path in the policy, e.g. {@code limits.condensing_celsius}; of the register the
 *     column's name after {@code register.}; of the detector itself a name after {@code detector.}
 * @param value in {@code unit}
 * @param unit {@code Cel}, {@code K}, {@code s}, {@code min}, {@code h}, {@code days}, {@code /} for a share, or empty for
 *     a count
 * @param source whose number it is
 */
public record Ground(String entry, double value, String unit, Source source) {

    /** Where a number comes from; the first that has one decides. */
    public enum Source {
        /** The machine's own row in the register. */
        REGISTER,
        /** What the policy says for the machine's model group. */
        MODEL_GROUP,
        /** What the firm's policy says for every machine. */
        POLICY,
        /** The policy that comes with the product. */
        STANDARD,
        /** The detector: no policy can change it. */
        DETECTOR;

        /** The word of the JSON form. */
        public String code() {
            return name().toLowerCase(Locale.ROOT).replace('_', '-');
        }

        public static Optional<Source> ofCode(String code) {
            for (Source source : values()) {
                if (source.code().equals(code)) {
                    return Optional.of(source);
                }
            }
            return Optional.empty();
        }
    }

    public Ground {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException("value of " + entry + " must be finite, was " + value);
        }
    }
}
