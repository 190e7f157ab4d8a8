package dev.rimecast.alerts.visits.calendar;

import dev.rimecast.alerts.view.VisitRequest;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.alerts.visits.plan.Planned;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.ZonedDateTime;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import net.fortuna.ical4j.data.CalendarOutputter;
import net.fortuna.ical4j.model.Calendar;
import net.fortuna.ical4j.model.ParameterList;
import net.fortuna.ical4j.model.Property;
import net.fortuna.ical4j.model.PropertyList;
import net.fortuna.ical4j.model.component.VEvent;
import net.fortuna.ical4j.model.parameter.Value;
import net.fortuna.ical4j.model.property.Created;
import net.fortuna.ical4j.model.property.Description;
import net.fortuna.ical4j.model.property.DtEnd;
import net.fortuna.ical4j.model.property.DtStamp;
import net.fortuna.ical4j.model.property.DtStart;
import net.fortuna.ical4j.model.property.LastModified;
import net.fortuna.ical4j.model.property.Location;
import net.fortuna.ical4j.model.property.ProdId;
import net.fortuna.ical4j.model.property.RefreshInterval;
import net.fortuna.ical4j.model.property.Sequence;
import net.fortuna.ical4j.model.property.Status;
import net.fortuna.ical4j.model.property.Summary;
import net.fortuna.ical4j.model.property.Uid;
import net.fortuna.ical4j.model.property.XProperty;
import net.fortuna.ical4j.model.property.immutable.ImmutableCalScale;
import net.fortuna.ical4j.model.property.immutable.ImmutableStatus;
import net.fortuna.ical4j.model.property.immutable.ImmutableVersion;

/**
 * Visits as a calendar to subscribe to (RFC 5545). One VEVENT for each visit, whose UID is the visit's for ever; SEQUENCE is
 * the visit's. There is no METHOD, since it is a calendar that is read and no invitation (RFC 5546 would want an organizer).
 * The same visits give the same text.
 */
final class CalendarFeed {
    /** How often a calendar program is asked to look again (RFC 7986, 5.7); some look once a day else. */
    private static final Duration OFTEN = Duration.ofHours(1);

    private CalendarFeed() {}

    static String write(List<VisitView> visits, Optional<String> engineer) {
        Calendar calendar = new Calendar();
        calendar.add(new ProdId("-//Rimecast//visits//EN"));
        calendar.add(ImmutableVersion.VERSION_2_0);
        calendar.add(ImmutableCalScale.GREGORIAN);
        // Not of the standard, but what calendar programs show as the name.
        calendar.add(new XProperty(
                "X-WR-CALNAME", engineer.map(name -> "Visits of " + name).orElse("Visits")));
        calendar.add(new RefreshInterval(new ParameterList(List.of(Value.DURATION)), OFTEN));
        Map<String, List<VisitView>> zones = visits.stream()
                .filter(visit -> isNamed(visit.zone()))
                .collect(Collectors.groupingBy(visit -> visit.zone().getId(), TreeMap::new, Collectors.toList()));
        if (zones.isEmpty()) {
            // A calendar has at least one component (RFC 5545, 3.6).
            calendar.add(ZoneComponent.of(ZoneId.of("Etc/UTC"), Instant.EPOCH, Instant.EPOCH));
        }
        zones.forEach((id, there) -> calendar.add(ZoneComponent.of(ZoneId.of(id), first(there), last(there))));
        visits.forEach(visit -> calendar.add(event(visit)));
        StringWriter text = new StringWriter();
        try {
            new CalendarOutputter(false).output(calendar, text);
        } catch (IOException e) {
            throw new UncheckedIOException("writing to memory", e);
        }
        return text.toString();
    }

    /** An offset has no rules of its own: its times are written in UTC. */
    private static boolean isNamed(ZoneId zone) {
        return !(zone.normalized() instanceof ZoneOffset);
    }

    private static Instant first(List<VisitView> visits) {
        return visits.stream()
                .map(visit -> visit.begins().toInstant())
                .min(Instant::compareTo)
                .orElseThrow();
    }

    private static Instant last(List<VisitView> visits) {
        return visits.stream()
                .map(visit -> visit.begins().plusMinutes(visit.minutes()).toInstant())
                .max(Instant::compareTo)
                .orElseThrow();
    }

    private static VEvent event(VisitView visit) {
        ZonedDateTime begins = visit.begins();
        Instant changed = visit.changedAt().truncatedTo(ChronoUnit.SECONDS);
        List<Property> properties = Stream.of(
                        Stream.of(
                                new Uid(visit.id() + "@rimecast"),
                                new DtStamp(changed),
                                new LastModified(changed),
                                new Created(visit.createdAt().truncatedTo(ChronoUnit.SECONDS)),
                                new Sequence(visit.sequence()),
                                status(visit.state()),
                                new Summary(summary(visit)),
                                new Location(visit.siteName()),
                                new Description(description(visit))),
                        times(begins, begins.plusMinutes(visit.minutes())))
                .flatMap(all -> all)
                .map(Property.class::cast)
                .toList();
        return new VEvent(new PropertyList(properties));
    }

    private static Stream<Property> times(ZonedDateTime begins, ZonedDateTime ends) {
        return isNamed(begins.getZone())
                ? Stream.of(new DtStart<>(begins), new DtEnd<>(ends))
                : Stream.of(new DtStart<>(begins.toInstant()), new DtEnd<>(ends.toInstant()));
    }

    private static Status status(VisitView.State state) {
        return switch (state) {
            case PROPOSED -> ImmutableStatus.VEVENT_TENTATIVE;
            case ACCEPTED, DONE -> ImmutableStatus.VEVENT_CONFIRMED;
            case CANCELLED -> ImmutableStatus.VEVENT_CANCELLED;
        };
    }

    private static String summary(VisitView visit) {
        String machines = String.join(", ", visit.machines());
        String prefix = switch (visit.state()) {
            case PROPOSED -> "Proposed: ";
            case ACCEPTED -> "";
            case DONE -> "Done: ";
            case CANCELLED -> "Cancelled: ";
        };
        return prefix + visit.siteName() + (machines.isEmpty() ? "" : " (" + machines + ')');
    }

    private static String description(VisitView visit) {
        Stream<String> asked = visit.request().stream().map(CalendarFeed::line);
        Stream<String> needs = visit.needs().stream().map(Planned::need).map(CalendarFeed::line);
        String parts = visit.needs().stream()
                .flatMap(planned -> planned.need().parts().stream())
                .filter(part -> !part.startsWith("None"))
                .distinct()
                .collect(Collectors.joining(", "));
        Stream<String> more = Stream.of(
                        "Engineer: " + visit.engineer(),
                        parts.isEmpty() ? "" : "Take along: " + parts,
                        visit.contact().map(contact -> "Contact: " + contact).orElse(""),
                        visit.request()
                                .map(VisitRequest::job)
                                .filter(job -> !job.isEmpty())
                                .map(job -> "Job: " + job)
                                .orElse(""),
                        visit.note().isEmpty() ? "" : "Note: " + visit.note())
                .filter(text -> !text.isEmpty());
        return Stream.of(asked, needs, more).flatMap(all -> all).collect(Collectors.joining("\n"));
    }

    private static String line(VisitRequest request) {
        return line(request.reason(), request.machines());
    }

    private static String line(Need need) {
        return line(need.title(), need.machines());
    }

    private static String line(String what, List<String> machines) {
        return what + (machines.isEmpty() ? "" : ", " + String.join(", ", machines));
    }
}
