package dev.rimecast.ingest.intake;

import dev.rimecast.telemetry.log.SiteRecord;
import java.time.Instant;
import java.util.List;

/** One record that a message causes, and where it belongs. */
public sealed interface Write {

    /** Into the site's log. */
    record ToSite(String site, SiteRecord entry) implements Write {}

    /** Readings of machines in no register, kept until somebody claims them. */
    record ToUnclaimed(String gateway, SiteRecord.Pack pack) implements Write {}

    /**
     * What was not taken. The payload is kept once, whatever the number of its rejected records.
     *
     * @param sender the gateway, or what is known of the sender where it names none
     */
    @SuppressWarnings("ArrayRecordComponent") // carried, never compared
    record ToRejects(String sender, String topic, byte[] payload, Instant receivedAt, List<Reject> rejects)
            implements Write {
        public ToRejects {
            rejects = List.copyOf(rejects);
            if (rejects.isEmpty()) {
                throw new IllegalArgumentException("a message on " + topic + " without rejects is not rejected");
            }
        }
    }
}
