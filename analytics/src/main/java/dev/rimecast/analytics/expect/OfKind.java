package dev.rimecast.analytics.expect;

/**
 * What a machine does beside its kind, on the feature's scale.
 *
 * @param level what it does itself
 * @param deviation that, less what the policy has of its kind
 * @param error standard deviation of its own level, as far as it was learned
 * @param spread standard deviation between machines, by the policy
 */
public record OfKind(double level, double deviation, double error, double spread) {}
