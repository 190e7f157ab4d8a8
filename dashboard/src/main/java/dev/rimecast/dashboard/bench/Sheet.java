package dev.rimecast.dashboard.bench;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The policy in force as numbers.
 *
 * @param version how it came into force
 * @param isStandard whether every number is the product's
 * @param canLookBack whether this server has a history, which back-tests and trials need
 * @param text as it is in the sites' logs (YAML)
 */
public record Sheet(Version version, boolean isStandard, boolean canLookBack, List<Number> numbers, String text) {

    /**
     * A number.
     *
     * @param path where it stands in {@code policy.yaml} below {@code all}
     * @param least what it may be at least; absent where there is no such end
     * @param unit SenML where there is one; {@code /} for a share
     * @param text unit, and what moves when it changes
     * @param ofGroups model groups that have it otherwise
     */
    public record Number(
            String path,
            double value,
            double standard,
            OptionalDouble least,
            OptionalDouble most,
            String unit,
            String text,
            List<OfGroup> ofGroups) {
        public Number {
            ofGroups = List.copyOf(ofGroups);
        }
    }

    /** What a model group has. */
    public record OfGroup(String group, double value) {}

    /**
     * A number that was changed.
     *
     * @param group model group; absent for all machines
     */
    public record Change(Optional<String> group, String path, double before, double after) {}

    public Sheet {
        numbers = List.copyOf(numbers);
    }
}
