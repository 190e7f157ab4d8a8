package dev.rimecast.alerts.life;

import dev.rimecast.alerts.life.AlertLife.Held;
import dev.rimecast.alerts.life.AlertLife.Present;
import dev.rimecast.alerts.view.Hold;
import java.util.Optional;

/**
 * What the rules need to know beside the finding.
 *
 * @param latches whether the condition must be looked at and reset when it is over
 * @param hold the strongest thing that keeps the subject's condition from counting
 */
public record Standing(boolean latches, Optional<Hold.Kind> hold) {
    /** Nothing special. */
    public static final Standing PLAIN = new Standing(false, Optional.empty());

    /** The life as it is under the hold, or without one. Doing it again changes nothing. */
    public AlertLife settle(AlertLife life) {
        if (hold.isEmpty()) {
            return life instanceof Held held ? held.release() : life;
        }
        Hold.Kind kind = hold.get();
        if (!(life instanceof Present present) || life.state() == kind.state()) {
            return life;
        }
        return switch (kind) {
            case OUT_OF_SERVICE -> present.takeOutOfService();
            case SHELVED -> present.shelve();
            case SUPPRESSED -> present.suppress();
        };
    }
}
