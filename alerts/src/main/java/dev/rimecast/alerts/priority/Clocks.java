package dev.rimecast.alerts.priority;

import java.time.Instant;
import java.util.Locale;
import java.util.Optional;

/**
 * The two clocks of an alert.
 *
 * @param ice what the site's ice clock says
 * @param iceOut when the site runs out of ice: as expected, else at the earliest
 * @param limit when the machine stops or reaches its limit, at the earliest
 */
public record Clocks(Ice ice, Optional<Instant> iceOut, Optional<Instant> limit) {

    /** What the ice clock says. */
    public enum Ice {
        SHORT,
        ENOUGH,
        NOT_KNOWN;

        private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

        public String code() {
            return code;
        }

        public static Optional<Ice> ofCode(String code) {
            for (Ice ice : values()) {
                if (ice.code.equals(code)) {
                    return Optional.of(ice);
                }
            }
            return Optional.empty();
        }
    }

    /** The earlier of the two. */
    public Optional<Instant> earlier() {
        if (iceOut.isPresent() && limit.isPresent()) {
            return iceOut.get().isBefore(limit.get()) ? iceOut : limit;
        }
        return iceOut.or(() -> limit);
    }
}
