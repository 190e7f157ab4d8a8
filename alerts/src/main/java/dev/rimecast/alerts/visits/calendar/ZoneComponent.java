package dev.rimecast.alerts.visits.calendar;

import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.zone.ZoneOffsetTransition;
import java.time.zone.ZoneRules;
import java.util.ArrayList;
import java.util.List;
import net.fortuna.ical4j.model.ComponentList;
import net.fortuna.ical4j.model.PropertyList;
import net.fortuna.ical4j.model.component.Daylight;
import net.fortuna.ical4j.model.component.Observance;
import net.fortuna.ical4j.model.component.Standard;
import net.fortuna.ical4j.model.component.VTimeZone;
import net.fortuna.ical4j.model.property.DtStart;
import net.fortuna.ical4j.model.property.TzId;
import net.fortuna.ical4j.model.property.TzOffsetFrom;
import net.fortuna.ical4j.model.property.TzOffsetTo;

/**
 * A time zone as far as the events of a calendar need it: each change of its offset from the one before the first event to
 * the last, by the rules that the product itself counts with.
 */
final class ZoneComponent {
    private static final LocalDateTime LONG_AGO = LocalDateTime.of(1970, 1, 1, 0, 0);

    private ZoneComponent() {}

    static VTimeZone of(ZoneId zone, Instant first, Instant last) {
        ZoneRules rules = zone.getRules();
        List<Observance> observances = new ArrayList<>();
        ZoneOffsetTransition change = rules.previousTransition(first.plusMillis(1));
        if (change == null) {
            ZoneOffset offset = rules.getOffset(first);
            observances.add(observance(false, LONG_AGO, offset, offset));
            change = rules.nextTransition(first);
        }
        while (change != null && !change.getInstant().isAfter(last)) {
            observances.add(observance(
                    rules.isDaylightSavings(change.getInstant()),
                    change.getDateTimeBefore(),
                    change.getOffsetBefore(),
                    change.getOffsetAfter()));
            change = rules.nextTransition(change.getInstant());
        }
        return new VTimeZone(new PropertyList(List.of(new TzId(zone.getId()))), new ComponentList<>(observances));
    }

    private static Observance observance(boolean daylight, LocalDateTime from, ZoneOffset before, ZoneOffset after) {
        PropertyList properties =
                new PropertyList(List.of(new DtStart<>(from), new TzOffsetFrom(before), new TzOffsetTo(after)));
        return daylight ? new Daylight(properties) : new Standard(properties);
    }
}
