package dev.rimecast.ingest.intake;

import dev.rimecast.telemetry.reading.RejectReason;
import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.Timer;
import java.time.Duration;
import java.util.EnumMap;
import java.util.Map;
import java.util.concurrent.TimeUnit;

/**
 * The conservation law of ingest as counters. With nothing under way,
 *
 * <pre>
 * records.received = records.stored + records.unclaimed + Σ records.rejected{reason} + records.unsure
 * </pre>
 *
 * and while something is, the difference is what is under way. A record is one SenML record with a value; a payload
 * that can't be taken apart counts as one. {@code received} counts on arrival, the others when Kafka has answered.
 * {@code unsure} belongs to messages whose write was not confirmed in time: no receipt left, the connection was closed,
 * the gateway sends them again, and then they are received again. Alert when {@code unsure} or {@code rejected} grows.
 */
public final class IntakeCounters {
    /** Upper bounds of the buckets. */
    private static final Duration[] CONFIRMATION = {
        Duration.ofMillis(10),
        Duration.ofMillis(50),
        Duration.ofMillis(200),
        Duration.ofSeconds(1),
        Duration.ofSeconds(5),
        Duration.ofSeconds(30)
    };

    private final Counter messages;
    private final Counter received;
    private final Counter stored;
    private final Counter unclaimed;
    private final Counter unsure;
    private final Counter badPackNumbers;
    private final Counter lenientUnits;
    private final Map<RejectReason, Counter> rejected = new EnumMap<>(RejectReason.class);
    private final Timer confirmed;

    public IntakeCounters(MeterRegistry registry) {
        messages = counter(registry, "rimecast.ingest.messages.received", "Messages of gateways, presence included");
        received = counter(registry, "rimecast.ingest.records.received", "Records that came in");
        stored = counter(registry, "rimecast.ingest.records.stored", "Readings stored in a site's log");
        unclaimed = counter(registry, "rimecast.ingest.records.unclaimed", "Readings kept for machines in no register");
        unsure = counter(registry, "rimecast.ingest.records.unsure", "Records not confirmed; they will come again");
        badPackNumbers = counter(registry, "rimecast.ingest.pack.numbers.bad", "Packs whose own count can't be read");
        lenientUnits = counter(
                registry,
                "rimecast.ingest.records.lenient.units",
                "Records with a unit that their pack did not announce");
        confirmed = Timer.builder("rimecast.ingest.confirmation")
                .description("From a message's arrival until Kafka has confirmed all that it caused")
                .serviceLevelObjectives(CONFIRMATION)
                .register(registry);
        for (RejectReason reason : RejectReason.values()) {
            if (reason != RejectReason.BAD_NUMBER) {
                rejected.put(
                        reason,
                        Counter.builder("rimecast.ingest.records.rejected")
                                .description("Records not taken, and kept among the rejects")
                                .tag("reason", reason.code())
                                .register(registry));
            }
        }
    }

    private static Counter counter(MeterRegistry registry, String name, String description) {
        return Counter.builder(name).description(description).register(registry);
    }

    void arrived(Decision decision) {
        messages.increment();
        received.increment(decision.tally().received());
        lenientUnits.increment(decision.lenientUnits());
        if (decision.hasBadPackNumber()) {
            badPackNumbers.increment();
        }
    }

    /** @param nanos since it arrived */
    void settled(Tally tally, boolean isStored, long nanos) {
        if (!isStored) {
            unsure.increment(tally.received());
            return;
        }
        confirmed.record(nanos, TimeUnit.NANOSECONDS);
        stored.increment(tally.stored());
        unclaimed.increment(tally.unclaimed());
        tally.rejected().forEach((reason, count) -> {
            Counter counter = rejected.get(reason);
            if (counter != null) {
                counter.increment(count);
            }
        });
    }
}
