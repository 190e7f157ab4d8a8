package dev.rimecast.alerts.rules;

import java.time.Instant;
import java.util.Optional;

/**
 * One version of a firm's book. It stays as it is for ever; a change is the next one.
 *
 * @param version 1 for the first; 0 is the standard where no version was saved
 * @param text absent where the firm follows the standard of whatever version of the product runs
 * @param who as the audit names them
 * @param why never empty
 * @param restores the version whose text it took up again
 */
public record RuleVersion(
        Book book, int version, Optional<String> text, Instant at, String who, String why, Optional<Integer> restores) {

    public RuleVersion {
        if (version < 1) {
            throw new IllegalArgumentException("version must be at least 1, was " + version);
        }
        if (why.isBlank()) {
            throw new IllegalArgumentException("why is empty: a change of rules needs a reason");
        }
    }

    /** The text, or that of the standard which it follows. */
    public String textOrStandard() {
        return text.orElseGet(book::standardText);
    }
}
