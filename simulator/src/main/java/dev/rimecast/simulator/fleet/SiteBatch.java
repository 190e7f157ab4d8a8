package dev.rimecast.simulator.fleet;

import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.List;

/**
 * What one site said and saw in a span of time.
 *
 * @param from exclusive
 * @param to inclusive
 * @param readings in order of time, then of the plan's machines
 * @param events in order of time
 */
public record SiteBatch(String site, Instant from, Instant to, List<Reading> readings, List<Happened> events) {}
