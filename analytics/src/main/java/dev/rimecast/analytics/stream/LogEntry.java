package dev.rimecast.analytics.stream;

import dev.rimecast.telemetry.log.SiteRecord;
import java.time.Instant;
import java.util.Optional;

/**
 * A record where it is in Kafka.
 *
 * @param site empty for a tick, which is for every site of its partition
 * @param appendedAt when Kafka took it
 */
public record LogEntry(int partition, long offset, Instant appendedAt, Optional<String> site, SiteRecord entry) {}
