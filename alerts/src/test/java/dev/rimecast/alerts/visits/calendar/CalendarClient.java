package dev.rimecast.alerts.visits.calendar;

import biweekly.Biweekly;
import biweekly.ICalVersion;
import biweekly.ICalendar;
import biweekly.component.VEvent;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

/** A calendar program that subscribes: knows an event by its UID, and takes the one with the highest SEQUENCE. */
final class CalendarClient {
    private final Map<String, VEvent> events = new HashMap<>();

    /** Reads the calendar; what it says about an event that is older than what is known is left aside. */
    void read(String text) {
        List<ICalendar> calendars = Biweekly.parse(text).all();
        if (calendars.size() != 1) {
            throw new AssertionError("one calendar, found " + calendars.size());
        }
        ICalendar calendar = calendars.get(0);
        // biweekly keeps time zones elsewhere, and so takes a calendar that has nothing else for an empty one
        if (!calendar.getEvents().isEmpty()
                && !calendar.validate(ICalVersion.V2_0).isEmpty()) {
            throw new AssertionError(calendar.validate(ICalVersion.V2_0).toString());
        }
        Map<String, VEvent> read = new HashMap<>();
        for (VEvent event : calendar.getEvents()) {
            if (read.put(event.getUid().getValue(), event) != null) {
                throw new AssertionError(
                        "twice in one calendar: " + event.getUid().getValue());
            }
        }
        read.forEach((uid, event) -> events.merge(
                uid,
                event,
                (known, told) ->
                        told.getSequence().getValue() > known.getSequence().getValue() ? told : known));
    }

    VEvent event(String uid) {
        return Objects.requireNonNull(events.get(uid), uid);
    }

    Map<String, VEvent> events() {
        return events;
    }
}
