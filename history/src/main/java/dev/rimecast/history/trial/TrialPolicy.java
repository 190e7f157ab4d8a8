package dev.rimecast.history.trial;

import dev.rimecast.analytics.policy.Policy;
import java.time.Instant;

/**
 * What is tried.
 *
 * @param id of the trial
 * @param since records of the sites' logs that arrived after this are decided by it, too
 */
public record TrialPolicy(int id, Policy policy, Instant since) {}
