package dev.rimecast.analytics.replay;

import dev.rimecast.telemetry.reading.Reading;
import java.util.List;
import java.util.Optional;

/**
 * What a recording has at one time.
 *
 * @param timeMillis newest of its readings; for a presence, when it was seen
 * @param gateway who sent it, where the recording says so
 * @param online empty for readings
 */
record Row(
        String file,
        long line,
        long timeMillis,
        Optional<String> gateway,
        List<Reading> readings,
        Optional<Boolean> online) {}
