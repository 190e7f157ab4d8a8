package dev.rimecast.alerts.view;

import dev.rimecast.telemetry.file.csv.IsoTime;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * A place in a list that has what is open first, then the newest: behind the entry that it was made of. It names no count of entries, so
 * what comes in or ends meanwhile moves nothing that is still to be read.
 *
 * @param isOver whether the entry was among those that are over
 * @param at when the entry began
 */
public record ListPlace(boolean isOver, Instant at, UUID id) {
    private static final String SEPARATOR = "_";
    private static final int PARTS = 3;

    public static ListPlace behind(AlertView alert) {
        return new ListPlace(
                alert.state() == AlertState.NORMAL,
                alert.finding().raisedAt(),
                alert.finding().id());
    }

    public static ListPlace behind(CaseView view) {
        return new ListPlace(view.closedAt().isPresent(), view.openedAt(), view.id());
    }

    /** To be sent back as it is. */
    public String text() {
        return (isOver ? "over" : "open") + SEPARATOR + at + SEPARATOR + id;
    }

    /** Empty where nobody has got the text from {@link #text}. */
    public static Optional<ListPlace> parse(String text) {
        String[] parts = text.split(SEPARATOR, -1);
        if (parts.length != PARTS || !(parts[0].equals("over") || parts[0].equals("open"))) {
            return Optional.empty();
        }
        try {
            UUID id = UUID.fromString(parts[2]);
            return IsoTime.parse(parts[1]).map(at -> new ListPlace(parts[0].equals("over"), at, id));
        } catch (IllegalArgumentException e) {
            return Optional.empty();
        }
    }
}
