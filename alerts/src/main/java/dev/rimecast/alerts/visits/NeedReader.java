package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.advice.AdviceBook;
import dev.rimecast.alerts.notice.text.Words;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.alerts.visits.plan.PartLeads;
import dev.rimecast.alerts.visits.plan.PartOrder;
import dev.rimecast.alerts.visits.plan.Place;
import dev.rimecast.alerts.visits.plan.PlanSettings;
import dev.rimecast.alerts.visits.plan.VisitPlanner.Start;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * Open cases and care that is due, as needs:
 *
 * <table>
 * <caption>What is a need</caption>
 * <tr><td>case with an alert that is there and counts</td><td>by the earliest of its alerts' latest dates</td></tr>
 * <tr><td>case that has only calls</td><td>by the first call and the site's response time, {@value #RESPONSE_HOURS} h else</td></tr>
 * <tr><td>care that is due</td><td>after its days of grace</td></tr>
 * <tr><td>case whose alerts are all held, or over and only waiting to be seen</td><td>none</td></tr>
 * </table>
 *
 * <p>A case takes the skills and parts of all of its alerts that are there: people join them, and causes wander. It waits for
 * parts that its advice says are needed, and for no others; a part is taken to be ordered on the day on which its case was
 * opened, or on which care became due.
 */
public final class NeedReader implements NeedSource {
    static final int RESPONSE_HOURS = 24;
    private static final int MOST = 5_000;
    private static final int CALL_MINUTES = 45;
    private static final String CALL_SKILL = "appliance";
    /** Where a site does not say when it opens. */
    private static final LocalTime OPENS = LocalTime.of(8, 0);
    /** Until then somebody can still be sent on the same day, from {@link #AFTERNOON} on; common practice. */
    private static final LocalTime NOON = LocalTime.NOON;

    private static final int AFTERNOON = 13 * 60;

    private final Views views;
    private final BooksInForce books;
    private final PartLeads parts;
    private final PlanSettings settings;
    private final Words words = Words.standard();

    public NeedReader(Views views, BooksInForce books, PartLeads parts, PlanSettings settings) {
        this.views = views;
        this.books = books;
        this.parts = parts;
        this.settings = settings;
    }

    @Override
    public Found read(Instant now) {
        Map<String, Site> sites = new HashMap<>();
        views.sites().forEach(site -> sites.put(site.id(), site));
        List<Known> known = new ArrayList<>();
        for (CaseView view : views.cases(true, MOST)) {
            need(view, sites.getOrDefault(view.site(), Site.basic(view.site()))).ifPresent(known::add);
        }
        for (AlertView alert : views.alerts(AlertFilter.OPEN, MOST)) {
            if (alert.finding().condition().isCare() && counts(alert)) {
                known.add(care(
                        alert,
                        sites.getOrDefault(
                                alert.finding().site(),
                                Site.basic(alert.finding().site()))));
            }
        }
        ZonedDateTime here = now.atZone(mostCommonZone(sites.values().stream()));
        Start start = here.toLocalTime().isBefore(NOON)
                ? new Start(here.toLocalDate(), AFTERNOON)
                : new Start(here.toLocalDate().plusDays(1), 0);
        Map<String, List<PartOrder>> orders = new HashMap<>();
        known.stream()
                .filter(each -> !each.orders().isEmpty())
                .forEach(each -> orders.put(each.need().id(), each.orders()));
        return new Found(
                known.stream().map(Known::need).toList(),
                sites.values().stream().map(NeedReader::place).toList(),
                start,
                orders);
    }

    /** A need, and what takes days to come for it. */
    private record Known(Need need, List<PartOrder> orders) {}

    /** Where the firm counts its days: the zone of most of its sites. */
    private static ZoneId mostCommonZone(Stream<Site> sites) {
        Map<String, Integer> zones = new TreeMap<>();
        sites.forEach(site -> zones.merge(site.timeZone().getId(), 1, Integer::sum));
        return zones.entrySet().stream()
                .max(Map.Entry.comparingByValue())
                .map(zone -> ZoneId.of(zone.getKey()))
                .orElse(ZoneId.of("UTC"));
    }

    static Place place(Site site) {
        return new Place(site.id(), site.closedDays(), site.open().orElse(OPENS).toSecondOfDay() / 60);
    }

    private static boolean counts(AlertView alert) {
        return alert.clearedAt().isEmpty()
                && (alert.state() == AlertState.UNACKNOWLEDGED || alert.state() == AlertState.ACKNOWLEDGED);
    }

    private Optional<Known> need(CaseView view, Site site) {
        List<AlertView> there =
                view.alerts().stream().filter(NeedReader::counts).toList();
        if (!there.isEmpty()) {
            return Optional.of(ofAlerts(view, there, site));
        }
        return view.alerts().isEmpty() && !view.calls().isEmpty()
                ? Optional.of(new Known(ofCalls(view, site), List.of()))
                : Optional.empty();
    }

    private Known ofAlerts(CaseView view, List<AlertView> there, Site site) {
        AlertView first = there.get(0);
        Optional<Instant> latest = there.stream()
                .flatMap(alert -> alert.advice().latestDate().stream())
                .min(Comparator.naturalOrder());
        LocalDate opened = view.openedAt().atZone(site.timeZone()).toLocalDate();
        List<String> wanted = distinct(there, alert -> alert.advice().parts());
        List<PartOrder> orders =
                parts.orders(wanted, distinct(there, alert -> alert.advice().neededParts()), opened);
        int minutes =
                there.stream().mapToInt(alert -> alert.advice().minutes()).max().orElse(CALL_MINUTES);
        Need need = new Need(
                "case-" + view.id(),
                Need.Kind.CASE,
                view.id(),
                view.site(),
                view.title().orElseGet(() -> title(first)),
                first.finding().summary(),
                there.stream()
                        .flatMap(alert -> alert.finding().machine().stream())
                        .distinct()
                        .toList(),
                thereOn(orders, opened),
                latest.map(instant -> lastDay(instant, minutes, site)),
                minutes,
                Set.copyOf(distinct(there, alert -> books.advice().skillsFor(alert.finding()))),
                wanted,
                siteCanCheck(there),
                local(view.openedAt(), site));
        return new Known(need, orders);
    }

    private static List<String> distinct(List<AlertView> alerts, Function<AlertView, List<String>> of) {
        return alerts.stream()
                .flatMap(alert -> of.apply(alert).stream())
                .distinct()
                .toList();
    }

    /** The day on which everything that must be there can be. */
    private static LocalDate thereOn(List<PartOrder> orders, LocalDate ordered) {
        return ordered.plusDays(orders.stream()
                .filter(PartOrder::isNeeded)
                .mapToInt(PartOrder::days)
                .max()
                .orElse(0));
    }

    /** The first cause lies in the surroundings, and none of the others lies elsewhere. */
    private static boolean siteCanCheck(List<AlertView> there) {
        return AdviceBook.toldCause(there.get(0).finding()).isPresent()
                && there.stream()
                        .flatMap(alert -> AdviceBook.toldCause(alert.finding()).stream())
                        .allMatch(cause -> cause.origin() == Cause.Origin.SITE);
    }

    private String title(AlertView alert) {
        String condition = words.of(alert.finding().condition());
        return AdviceBook.toldCause(alert.finding())
                .map(cause -> condition + ": " + words.of(cause))
                .orElse(condition);
    }

    private Need ofCalls(CaseView view, Site site) {
        CaseView.Call call = view.calls().get(0);
        Duration response =
                Duration.ofMinutes(Math.round(60 * site.responseHours().orElse(RESPONSE_HOURS)));
        return new Need(
                "case-" + view.id(),
                Need.Kind.CASE,
                view.id(),
                view.site(),
                "A call: " + call.detail().replace('-', ' '),
                "",
                call.machine().stream().toList(),
                call.at().atZone(site.timeZone()).toLocalDate(),
                Optional.of(lastDay(call.at().plus(response), CALL_MINUTES, site)),
                CALL_MINUTES,
                Set.of(CALL_SKILL),
                List.of(),
                false,
                local(view.openedAt(), site));
    }

    private Known care(AlertView alert, Site site) {
        LocalDate due = alert.finding().raisedAt().atZone(site.timeZone()).toLocalDate();
        List<PartOrder> orders =
                parts.orders(alert.advice().parts(), alert.advice().neededParts(), due);
        Need need = new Need(
                "care-" + alert.finding().id(),
                Need.Kind.CARE,
                alert.finding().id(),
                alert.finding().site(),
                words.of(alert.finding().condition()),
                alert.finding().summary(),
                alert.finding().machine().stream().toList(),
                thereOn(orders, due),
                Optional.of(due.plusDays(settings.careGraceDays())),
                alert.advice().minutes(),
                Set.copyOf(books.advice().skillsFor(alert.finding())),
                alert.advice().parts(),
                false,
                local(alert.finding().raisedAt(), site));
        return new Known(need, orders);
    }

    private static LocalDateTime local(Instant at, Site site) {
        return at.atZone(site.timeZone()).toLocalDateTime().truncatedTo(ChronoUnit.MILLIS);
    }

    /** The last day on which work that begins when the site opens is done before that moment. */
    private static LocalDate lastDay(Instant latest, int minutes, Site site) {
        ZonedDateTime there = latest.atZone(site.timeZone());
        int minute = there.toLocalTime().toSecondOfDay() / 60;
        return place(site).fromMinute() + minutes <= minute
                ? there.toLocalDate()
                : there.toLocalDate().minusDays(1);
    }
}
