package dev.rimecast.ingest.intake;

import dev.rimecast.telemetry.log.PackNumber;
import java.time.Instant;
import java.util.Optional;

/**
 * One message with a pack in it, as a transport hands it in.
 *
 * @param topic where it was published, kept with what is rejected
 * @param gateway the gateway that the topic names
 * @param payload the bytes as they came; not copied, not changed
 * @param number the gateway's own count, where it keeps one that can be read
 * @param badNumber what was wrong with the count, where there was one that cannot be read
 * @param receivedAt by ingest's clock; "now" of relative times, and what "future" is measured against
 */
@SuppressWarnings("ArrayRecordComponent") // carried, never compared
public record Message(
        String topic,
        String gateway,
        PayloadFormat format,
        byte[] payload,
        Optional<PackNumber> number,
        Optional<String> badNumber,
        Instant receivedAt) {

    public Message {
        if (number.isPresent() && badNumber.isPresent()) {
            throw new IllegalArgumentException("a pack's number is either good or bad, not both: " + number.get());
        }
    }
}
