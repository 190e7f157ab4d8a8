package dev.rimecast.ingest.kafka;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Where a rejected message is in the topic {@code rejects}; in text {@code 7-1204}.
 *
 * @param partition from 0
 * @param offset from 0
 */
public record RejectId(int partition, long offset) {
    private static final Pattern TEXT = Pattern.compile("(\\d{1,6})-(\\d{1,18})");

    /** Empty where the text is none. */
    public static Optional<RejectId> parse(String text) {
        Matcher matcher = TEXT.matcher(text);
        return matcher.matches()
                ? Optional.of(new RejectId(Integer.parseInt(matcher.group(1)), Long.parseLong(matcher.group(2))))
                : Optional.empty();
    }

    @Override
    public String toString() {
        return partition + "-" + offset;
    }
}
