package dev.rimecast.ingest.kafka;

import java.time.Instant;
import java.util.List;

/**
 * What came of a rejected message when somebody had it taken again.
 *
 * @param by who
 * @param stored readings that are in their site's log since
 * @param unclaimed readings that wait for their machine since
 * @param rejected what was rejected again: {@code index code detail}, index {@code -} for the message as a whole
 */
public record Replayed(Instant at, String by, int stored, int unclaimed, List<String> rejected) {
    public Replayed {
        rejected = List.copyOf(rejected);
    }
}
