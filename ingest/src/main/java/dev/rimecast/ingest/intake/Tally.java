package dev.rimecast.ingest.intake;

import dev.rimecast.telemetry.reading.RejectReason;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/**
 * How many records of one message went where: {@code received = stored + unclaimed + rejected}, always.
 * A payload that can't be taken apart counts as one record. {@link RejectReason#BAD_NUMBER} rejects a count, not
 * a record, and is outside the sum. Presence is no record.
 *
 * @param received records with a value in the message
 * @param stored readings on their way into the site's log
 * @param unclaimed readings of machines in no register
 * @param rejected records not taken, by reason
 */
public record Tally(int received, int stored, int unclaimed, Map<RejectReason, Integer> rejected) {
    /** Nothing to count. */
    public static final Tally NONE = new Tally(0, 0, 0, Map.of());

    public Tally {
        rejected = rejected.isEmpty() ? Map.of() : Map.copyOf(rejected);
        int all = stored + unclaimed + sum(rejected);
        if (received != all) {
            throw new IllegalArgumentException("received " + received + " records, but stored " + stored
                    + " + unclaimed " + unclaimed + " + rejected " + rejected + " = " + all);
        }
    }

    /**
     * Counts what was rejected by reason.
     *
     * @throws IllegalArgumentException if a record is missing or counted twice
     */
    static Tally of(int received, int stored, int unclaimed, List<Reject> rejects) {
        if (rejects.isEmpty()) {
            return new Tally(received, stored, unclaimed, Map.of());
        }
        Map<RejectReason, Integer> byReason = new EnumMap<>(RejectReason.class);
        for (Reject reject : rejects) {
            if (reject.reason() != RejectReason.BAD_NUMBER) {
                byReason.merge(reject.reason(), 1, Integer::sum);
            }
        }
        return new Tally(received, stored, unclaimed, byReason);
    }

    /** Records not taken, for whatever reason. */
    public int rejectedRecords() {
        return sum(rejected);
    }

    private static int sum(Map<RejectReason, Integer> counts) {
        return counts.isEmpty()
                ? 0
                : counts.values().stream().mapToInt(Integer::intValue).sum();
    }
}
