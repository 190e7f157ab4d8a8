package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.notice.text.Words;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.reading.RejectReason;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Objects;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** A notice calls a thing what the page calls it. */
class WordsTest {

    @Test
    void noticesAndPages_useTheSameWords() throws IOException {
        String script = script();
        Words words = Words.standard();
        for (Condition condition : Condition.values()) {
            assertThat(script).contains(entry(condition.code(), words.of(condition)));
        }
        for (Cause cause : Cause.values()) {
            assertThat(script).contains(entry(cause.code(), words.of(cause)));
        }
    }

    @Test
    void pages_haveWordsForEveryReasonOfARejection() throws IOException {
        String script = script();
        String words = script.substring(script.indexOf("export const rejectReasons"));
        for (RejectReason reason : RejectReason.values()) {
            String code = reason.code();
            assertThat(words).contains("\n  " + (code.contains("-") ? "'" + code + "'" : code) + ": '");
        }
    }

    @Test
    void pages_knowWhatIsPlannedCare() throws IOException {
        String list = Arrays.stream(Condition.values())
                .filter(Condition::isCare)
                .map(condition -> "'" + condition.code() + "'")
                .collect(Collectors.joining(", "));

        assertThat(script()).contains("careConditions = [" + list + "];");
    }

    private static String script() throws IOException {
        try (InputStream in = Objects.requireNonNull(WordsTest.class.getResourceAsStream("web/words.js"))) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    private static String entry(String code, String words) {
        return (code.contains("-") ? "'" + code + "'" : code) + ": '" + words + "',";
    }
}
