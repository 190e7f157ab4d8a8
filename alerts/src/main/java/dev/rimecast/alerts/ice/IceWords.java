package dev.rimecast.alerts.ice;

import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/** The outlook in the customer's unit: kilograms short, at what hour of the site. */
public final class IceWords {
    private static final DateTimeFormatter HOUR = DateTimeFormatter.ofPattern("EEEE d MMMM HH:mm", Locale.ENGLISH);

    private IceWords() {}

    public static String of(IceOutlook outlook, ZoneId zone) {
        if (outlook instanceof IceOutlook.NotKnown unknown) {
            return "Not known when the site runs out of ice: " + unknown.why() + '.';
        }
        if (outlook instanceof IceOutlook.Enough) {
            // as far as the clock goes; its end always has the weekday of now
            return "The site has ice for at least a week.";
        }
        IceOutlook.Short out = (IceOutlook.Short) outlook;
        String between = "between " + hour(out.early(), zone) + " and "
                + out.late().map(late -> hour(late, zone)).orElse("not within a week");
        String kg = Math.round(out.kgShort()) + " kg short in the 24 hours after";
        return out.likely()
                .map(likely -> "The site runs out of ice on " + hour(likely, zone) + " (" + between + "), " + kg + '.')
                .orElseGet(() -> "The site may run out of ice from " + hour(out.early(), zone)
                        + " on, if all goes against it, " + kg + '.');
    }

    private static String hour(Instant at, ZoneId zone) {
        return HOUR.format(at.atZone(zone));
    }
}
