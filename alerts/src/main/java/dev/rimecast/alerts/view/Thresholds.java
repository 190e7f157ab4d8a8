package dev.rimecast.alerts.view;

import java.util.Optional;

/** What the numbers that findings are raised by mean: asked for by the entry that a finding names. */
@FunctionalInterface
public interface Thresholds {
    /** Nothing is known of any. */
    Thresholds NONE = entry -> Optional.empty();

    /**
     * A number of the policy.
     *
     * @param standard as it comes with the product
     * @param text unit, and what moves when it changes
     */
    record Explained(double standard, String text) {}

    /** @param entry as in {@link dev.rimecast.telemetry.finding.Ground#entry}; empty for one that no policy has */
    Optional<Explained> of(String entry);
}
