package dev.rimecast.alerts.work;

import dev.rimecast.alerts.work.Past.Ended;
import dev.rimecast.alerts.work.Past.Stop;
import dev.rimecast.alerts.work.WorkFigure.Unit;
import dev.rimecast.telemetry.finding.Cause.Origin;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;

/** The figures that are not of reports of work: hours without ice, what is made on site, what needed no visit. */
final class PastFigures {
    private static final double HOUR_SECONDS = 3600;

    private PastFigures() {}

    static List<WorkFigure> of(Past past) {
        List<Ended> known =
                past.cases().stream().filter(each -> each.origin().isPresent()).toList();
        return List.of(
                new WorkFigure(
                        "hours-without-ice",
                        "Of all hours of all machines that were watched, those in which a machine that should have made ice had"
                                + " stopped: from the first alert that said so to its end. Ice that is left in the bin, or"
                                + " that another machine makes, is not counted against it. Left out are silence, care, and"
                                + " what did not count: out of service, closed. Two alerts at once count once.",
                        hours(past.stops()),
                        (int) Math.round(past.watched() / HOUR_SECONDS),
                        Unit.HOURS),
                new WorkFigure(
                        "made-on-site",
                        "Of all cases that ended and whose origin is known, those that were made on site: air, room, water,"
                                + " or how the machine was put together. By the last report of work; where the site ended it"
                                + " without work, by the cause that was most probable last.",
                        (int) known.stream()
                                .filter(each -> each.origin()
                                        .filter(Origin.SITE::equals)
                                        .isPresent())
                                .count(),
                        known.size(),
                        Unit.SHARE),
                new WorkFigure(
                        "visits-avoided",
                        "Of all cases that ended, those that ended without a visit and without reported work after the site"
                                + " had answered a question about them. Care is left out.",
                        (int) past.cases().stream().filter(Ended::isEndedBySite).count(),
                        past.cases().size(),
                        Unit.SHARE));
    }

    /** Each machine's stops together, what overlaps once. */
    private static int hours(List<Stop> stops) {
        Map<String, List<Stop>> ofMachine = stops.stream().collect(Collectors.groupingBy(Stop::machine));
        double seconds =
                ofMachine.values().stream().mapToDouble(PastFigures::seconds).sum();
        return (int) Math.round(seconds / HOUR_SECONDS);
    }

    private static double seconds(List<Stop> stops) {
        double seconds = 0;
        Instant counted = Instant.MIN;
        List<Stop> inOrder =
                stops.stream().sorted(Comparator.comparing(Stop::from)).toList();
        for (Stop stop : inOrder) {
            Instant from = stop.from().isAfter(counted) ? stop.from() : counted;
            if (stop.until().isAfter(from)) {
                seconds += Duration.between(from, stop.until()).toMillis() / 1000.0;
                counted = stop.until();
            }
        }
        return seconds;
    }
}
