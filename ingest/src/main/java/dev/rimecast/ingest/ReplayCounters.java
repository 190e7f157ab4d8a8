package dev.rimecast.ingest;

import dev.rimecast.ingest.kafka.RejectReplay;
import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.MeterRegistry;

/** Records of rejected messages that somebody had taken again; they are in no sum of what came in. */
final class ReplayCounters {
    private final Counter stored;
    private final Counter unclaimed;
    private final Counter rejected;

    ReplayCounters(MeterRegistry meters) {
        stored = counter(meters, "stored");
        unclaimed = counter(meters, "unclaimed");
        rejected = counter(meters, "rejected");
    }

    private static Counter counter(MeterRegistry meters, String outcome) {
        return Counter.builder("rimecast.ingest.records.replayed")
                .description("Rejected records that were taken again, by what came of them")
                .tag("outcome", outcome)
                .register(meters);
    }

    void count(RejectReplay.Outcome outcome) {
        if (outcome instanceof RejectReplay.Outcome.Done done) {
            stored.increment(done.replayed().stored());
            unclaimed.increment(done.replayed().unclaimed());
            rejected.increment(done.replayed().rejected().size());
        }
    }
}
