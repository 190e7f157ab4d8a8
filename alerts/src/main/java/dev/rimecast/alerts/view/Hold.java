package dev.rimecast.alerts.view;

import java.time.Instant;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

/**
 * What keeps alerts of one subject from counting. It holds those that are raised while it lasts, too. What is over stays
 * as a record.
 *
 * @param subject machine, or {@code gateway:…}, or {@code site:…}
 * @param condition code of the one condition that is held; empty for all of the subject's
 * @param who the person; for {@link Kind#SUPPRESSED} the name of the rule
 * @param why the reason; for {@link Kind#SUPPRESSED} the rule's words, e.g. {@code the bin is full}
 * @param permittedBy who allowed it, for {@link Kind#OUT_OF_SERVICE}
 * @param until when it ends by itself; always there for {@link Kind#SHELVED}
 */
public record Hold(
        UUID id,
        Kind kind,
        String subject,
        String site,
        Optional<String> condition,
        String who,
        String why,
        Optional<String> permittedBy,
        Instant since,
        Optional<Instant> until) {

    /** The three ways of ISA-18.2 / IEC 62682, strongest first: where several hold, the first of them names the state. */
    public enum Kind {
        OUT_OF_SERVICE(AlertState.OUT_OF_SERVICE),
        SHELVED(AlertState.SHELVED),
        SUPPRESSED(AlertState.SUPPRESSED_BY_DESIGN);

        private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');
        private final AlertState state;

        Kind(AlertState state) {
            this.state = state;
        }

        public String code() {
            return code;
        }

        /** The state of an alert that is held in this way. */
        public AlertState state() {
            return state;
        }

        public static Optional<Kind> ofCode(String code) {
            for (Kind kind : values()) {
                if (kind.code.equals(code)) {
                    return Optional.of(kind);
                }
            }
            return Optional.empty();
        }
    }
}
