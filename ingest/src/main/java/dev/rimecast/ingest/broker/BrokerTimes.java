package dev.rimecast.ingest.broker;

import java.time.Duration;

/**
 * How long things are waited for; tests have shorter ones.
 *
 * @param firstWait before the second attempt to connect, at most
 * @param longestWait before any attempt, at most
 * @param poll how often a reason not to connect yet is looked at
 * @param connectLimit from the attempt to the granted subscription
 * @param holds after which a connection counts as good, and the next wait is a short one again
 */
record BrokerTimes(Duration firstWait, Duration longestWait, Duration poll, Duration connectLimit, Duration holds) {}
