package dev.rimecast.dashboard.json;

import dev.rimecast.dashboard.system.SystemWatch;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A record that a stage could not process.
 *
 * @param content what it is, for a person; may be empty
 * @param payload its beginning: text, or bytes in hexadecimal where it is no text
 * @param obstacle why it can't be taken again now, and what to do instead
 * @param open whether it was not taken again, or in vain
 */
public record DeadLetterJson(
        String id,
        Instant at,
        String stage,
        String topic,
        int partition,
        long offset,
        String key,
        String why,
        String content,
        String payload,
        boolean isText,
        int payloadBytes,
        Optional<String> obstacle,
        boolean open,
        List<RetakeJson> retakes) {

    public static DeadLetterJson of(SystemWatch.DeadLetter letter) {
        PayloadJson payload = PayloadJson.of(letter.payload());
        return new DeadLetterJson(
                letter.id(),
                letter.at(),
                letter.stage(),
                letter.topic(),
                letter.partition(),
                letter.offset(),
                letter.key(),
                letter.why(),
                letter.content(),
                payload.shown(),
                payload.isText(),
                letter.payload().length,
                letter.obstacle(),
                letter.isOpen(),
                letter.retakes().stream().map(RetakeJson::of).toList());
    }

    /** Somebody had it taken again. */
    public record RetakeJson(Instant at, String by, Optional<String> failedAgain) {
        public static RetakeJson of(SystemWatch.Retake retake) {
            return new RetakeJson(retake.at(), retake.by(), retake.failedAgain());
        }
    }
}
