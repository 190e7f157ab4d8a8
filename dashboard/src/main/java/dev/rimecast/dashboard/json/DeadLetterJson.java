package dev.rimecast.dashboard.json;

import dev.rimecast.dashboard.system.SystemWatch;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;

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

    /** What failures are called in the program, which tells nobody outside it anything. */
    private static final Pattern OF_THE_PROGRAM =
            Pattern.compile("(?:[a-z][A-Za-z0-9_]*\\.)*[A-Z][A-Za-z0-9_$]*(?:Exception|Error)(?:: )?");

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
                inWords(letter.why()),
                letter.content(),
                payload.shown(),
                payload.isText(),
                letter.payload().length,
                letter.obstacle(),
                letter.isOpen(),
                letter.retakes().stream().map(RetakeJson::of).toList());
    }

    private static String inWords(String why) {
        String words = OF_THE_PROGRAM.matcher(why).replaceAll("").strip();
        return words.isEmpty() ? "It failed without a word; the log of the process has more." : words;
    }

    /** Somebody had it taken again. */
    public record RetakeJson(Instant at, String by, Optional<String> failedAgain) {
        public static RetakeJson of(SystemWatch.Retake retake) {
            return new RetakeJson(retake.at(), retake.by(), retake.failedAgain().map(DeadLetterJson::inWords));
        }
    }
}
