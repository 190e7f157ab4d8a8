package dev.rimecast.dashboard.json;

import dev.rimecast.telemetry.machine.Site;
import java.time.DayOfWeek;
import java.time.LocalTime;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** A place that a visit is made to. */
public record SiteJson(
        String site,
        String name,
        String timeZone,
        Optional<String> open,
        Optional<String> close,
        List<String> closedDays,
        Optional<String> contact,
        Optional<String> mail) {

    public static SiteJson of(Site site) {
        return of(site, Optional.empty());
    }

    /** @param mail the address by which the site can be asked */
    public static SiteJson of(Site site, Optional<String> mail) {
        return new SiteJson(
                site.id(),
                site.name(),
                site.timeZone().getId(),
                site.open().map(LocalTime::toString),
                site.close().map(LocalTime::toString),
                site.closedDays().stream().sorted().map(SiteJson::day).toList(),
                site.contact(),
                mail);
    }

    private static String day(DayOfWeek day) {
        return day.name().toLowerCase(Locale.ROOT);
    }
}
