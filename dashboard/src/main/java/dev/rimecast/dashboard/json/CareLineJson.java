package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.work.CareLine;
import java.time.Instant;
import java.util.Optional;

/**
 * One line of a hygiene record.
 *
 * @param machine absent for what was done to all of the site
 * @param what code of an event, or {@code first-batches-discarded}
 */
public record CareLineJson(
        Instant time,
        Optional<String> machine,
        String site,
        String what,
        String detail,
        String by,
        String job,
        String enteredBy) {
    public static CareLineJson of(CareLine line) {
        return new CareLineJson(
                line.at(),
                line.machine(),
                line.site(),
                line.what(),
                line.detail(),
                line.by(),
                line.job(),
                line.enteredBy());
    }
}
