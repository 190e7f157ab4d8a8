package dev.rimecast.alerts.visits.plan;

import java.util.Locale;

/**
 * A need that is on no trip yet.
 *
 * @param words why not
 */
public record Waiting(Need need, Reason reason, String words) {

    /** Why it waits. */
    public enum Reason {
        /** Its date is beyond the horizon. */
        LATER,
        /** It has no date of its own: whoever comes next does it. */
        NEXT_VISIT,
        /** A visit was made for it; the next cycles tell whether it is needed again. */
        VISITED,
        /** Nobody can do it. */
        IMPOSSIBLE;

        public String code() {
            return name().toLowerCase(Locale.ROOT).replace('_', '-');
        }
    }
}
