package dev.rimecast.simulator.gateway;

import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.List;

/** What the machines behind one gateway have to say, in the order of time. */
@FunctionalInterface
public interface ReadingSource {

    /** Everything since the last call, up to {@code until} (exclusive). */
    List<Reading> until(Instant until);
}
