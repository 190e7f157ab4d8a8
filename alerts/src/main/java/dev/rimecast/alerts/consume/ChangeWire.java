package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.view.Changes.Change;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;

/**
 * Changes as instances tell them to each other: the sender's mark, then one change after the other, their parts divided by
 * characters that no identifier has. Each text is shorter than PostgreSQL's limit for a notification (8,000 bytes).
 */
final class ChangeWire {
    private static final int MOST_BYTES = 7_900;
    private static final char PART = '\u001f';
    private static final char RECORD = '\u001e';

    private ChangeWire() {}

    /** @param sender differs for each process and start */
    static List<String> encode(String sender, Collection<Change> changes) {
        List<String> texts = new ArrayList<>();
        StringBuilder text = new StringBuilder(sender);
        int bytes = sender.length();
        for (Change change : changes) {
            String next = RECORD + change.kind() + PART + change.site() + PART + change.machine() + PART + change.id();
            int length = next.getBytes(StandardCharsets.UTF_8).length;
            if (bytes + length > MOST_BYTES && bytes > sender.length()) {
                texts.add(text.toString());
                text = new StringBuilder(sender);
                bytes = sender.length();
            }
            text.append(next);
            bytes += length;
        }
        if (bytes > sender.length()) {
            texts.add(text.toString());
        }
        return texts;
    }

    /** What others tell; empty where {@code sender} has told it itself. What can't be read is {@link Change#EVERYTHING}. */
    static Optional<List<Change>> decode(String text, String sender) {
        String[] records = text.split(String.valueOf(RECORD), -1);
        if (records[0].equals(sender)) {
            return Optional.empty();
        }
        List<Change> changes = new ArrayList<>();
        for (int i = 1; i < records.length; i++) {
            String[] parts = records[i].split(String.valueOf(PART), -1);
            changes.add(parts.length == 4 ? new Change(parts[0], parts[1], parts[2], parts[3]) : Change.EVERYTHING);
        }
        return Optional.of(changes);
    }
}
