package dev.rimecast.alerts.view;

import dev.rimecast.telemetry.log.EventKind;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * What happened that no probe can see, as somebody reported it.
 *
 * @param id grows with each report
 * @param at when it happened, as reported
 * @param machine empty where it is the site's
 * @param detail kind of complaint, cause found, part; may be empty
 * @param by who says so; may be empty
 * @param job the firm's own job number; may be empty
 * @param enteredBy who put it in; absent where the product did
 * @param caseId the case that a call joined
 */
public record EventView(
        long id,
        Instant at,
        String site,
        Optional<String> machine,
        EventKind kind,
        String detail,
        String by,
        String job,
        Optional<String> enteredBy,
        Optional<Instant> enteredAt,
        Optional<UUID> caseId) {}
