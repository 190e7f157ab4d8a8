package dev.rimecast.alerts.work;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * A call that nothing had warned of: at no moment of the {@link #LOOKS_BACK_HOURS} hours up to it did an alert stand about
 * the machine that it names, or, where it names none, about any machine of the site. Planned care warns of nothing, and
 * neither does silence: who was not heard could not be warned of, which {@code wasSilent} says.
 *
 * @param event number of the report
 * @param complaint code; may be empty
 * @param wasSilent whether the machine, or its gateway, was silent in those hours
 */
public record MissedCall(
        long event,
        Instant at,
        String site,
        Optional<String> machine,
        String complaint,
        boolean wasSilent,
        String by,
        String job,
        Optional<UUID> caseId) {
    /** An alert that was over three days before is not what the call is about. */
    public static final int LOOKS_BACK_HOURS = 72;
}
