package dev.rimecast.alerts.work;

import java.time.Instant;

/**
 * A report as it is kept.
 *
 * @param site where the machine stood when it came in
 * @param enteredBy whose account sent it
 */
public record StoredWork(WorkReport report, String site, String machine, String enteredBy, Instant enteredAt) {}
