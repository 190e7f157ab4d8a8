package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.Hold;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * What keeps alerts from counting.
 *
 * @param subject machine, or {@code gateway:…}, or {@code site:…}
 * @param condition left out where it holds all of the subject's
 * @param by a person, or the rule that suppresses
 */
public record HoldJson(
        UUID id,
        String kind,
        String subject,
        String site,
        Optional<String> condition,
        String by,
        String reason,
        Optional<String> permittedBy,
        Instant since,
        Optional<Instant> until) {

    public static HoldJson of(Hold hold) {
        return new HoldJson(
                hold.id(),
                hold.kind().code(),
                hold.subject(),
                hold.site(),
                hold.condition(),
                hold.who(),
                hold.why(),
                hold.permittedBy(),
                hold.since(),
                hold.until());
    }
}
