package dev.rimecast.analytics.fleetfiles;

import dev.rimecast.telemetry.reading.Reading;
import java.util.List;

/**
 * What one machine says at one moment.
 *
 * @param arrivesMillis when it comes in: mostly its own time, now and then later
 */
public record Row(long arrivesMillis, long timeMillis, String machine, List<Reading> readings) {}
