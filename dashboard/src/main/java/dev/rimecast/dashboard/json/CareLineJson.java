package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.work.CareLine;
import java.time.Instant;

/**
 * One line of a hygiene record.
 *
 * @param what code of an event, or {@code first-batches-discarded}
 */
public record CareLineJson(
        Instant time,
        String machine,
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
