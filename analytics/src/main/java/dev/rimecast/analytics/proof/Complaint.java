package dev.rimecast.analytics.proof;

import dev.rimecast.telemetry.cycle.Feature;

/**
 * A feature that was not as it should be when work was recorded.
 *
 * @param upward whether it is too long, too warm or too much
 * @param level how far it was from what it should be, towards that side, on the feature's scale; 0 where nothing was seen
 */
public record Complaint(Feature feature, boolean upward, double level) {}
