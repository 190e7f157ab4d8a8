package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.VisitRequest;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.alerts.visits.plan.Engineer;
import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.alerts.visits.plan.PartOrder;
import dev.rimecast.alerts.visits.plan.Planned;
import dev.rimecast.alerts.visits.plan.Waiting;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZonedDateTime;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

/**
 * A visit to a site.
 *
 * @param day of the site
 * @param from hour and minute at the site
 * @param beginsAt the same as a point in time
 * @param request what somebody asked for who made it by hand; left out where planning made it
 * @param orders what takes days to come for it; empty where it is over
 * @param engineerAway whether whoever goes is away that day
 */
public record VisitJson(
        UUID id,
        String site,
        String siteName,
        String timeZone,
        Optional<String> contact,
        LocalDate day,
        String from,
        int minutes,
        Instant beginsAt,
        Instant endsAt,
        String engineer,
        String state,
        int sequence,
        String note,
        List<NeedJson> needs,
        Optional<RequestJson> request,
        List<OrderJson> orders,
        boolean engineerAway,
        Instant createdAt,
        Instant changedAt,
        String changedBy,
        List<AlertJson.AuditJson> history) {

    /**
     * What a visit is for.
     *
     * @param ref the case, or the alert that says that care is due
     * @param since the day on which it became known, or care became due
     * @param latest left out where it has no date of its own
     * @param problem what the visit does not meet; left out where it is in time
     */
    public record NeedJson(
            String id,
            String kind,
            UUID ref,
            String site,
            String title,
            String why,
            List<String> machines,
            LocalDate since,
            LocalDate earliest,
            Optional<LocalDate> latest,
            int minutes,
            List<String> skills,
            List<String> parts,
            boolean siteCanCheck,
            Optional<String> problem) {
        static NeedJson of(Need need, String problem) {
            return new NeedJson(
                    need.id(),
                    need.kind().code(),
                    need.ref(),
                    need.site(),
                    need.title(),
                    need.why(),
                    need.machines(),
                    need.since().toLocalDate(),
                    need.earliest(),
                    need.latest(),
                    need.minutes(),
                    need.skills().stream().sorted().toList(),
                    need.parts(),
                    need.siteCanCheck(),
                    Optional.of(problem).filter(text -> !text.isEmpty()));
        }
    }

    /** What somebody asked for who made a visit by hand. */
    public record RequestJson(List<String> machines, String reason, String job) {
        static RequestJson of(VisitRequest request) {
            return new RequestJson(request.machines(), request.reason(), request.job());
        }
    }

    /**
     * A part that takes days to come.
     *
     * @param needed whether planning waits for it
     * @param since the day on which planning takes it to be ordered
     * @param orderBy the last day on which it can be ordered for this visit
     */
    public record OrderJson(String part, int days, boolean needed, LocalDate since, LocalDate orderBy) {
        static OrderJson of(PartOrder order, LocalDate visit) {
            return new OrderJson(order.part(), order.days(), order.isNeeded(), order.since(), order.orderBy(visit));
        }
    }

    /** A need that is on no visit, and why. */
    public record WaitingJson(NeedJson need, String reason, String words) {}

    /** Somebody who can be sent; skills are left out for all of them. */
    public record EngineerJson(String name, List<String> days, Optional<List<String>> skills, int minutesPerDay) {}

    /** What planning counts with. */
    public record MeansJson(List<EngineerJson> engineers, boolean teamKnown, boolean partsKnown, int horizonDays) {
        public static MeansJson of(Visits.Means means) {
            return new MeansJson(
                    means.engineers().stream().map(VisitJson::engineer).toList(),
                    means.teamKnown(),
                    means.partsKnown(),
                    means.horizonDays());
        }
    }

    /** Visits, what is on none, and what planning counts with. */
    public record PlanJson(List<VisitJson> visits, List<WaitingJson> waiting, MeansJson means) {}

    private static EngineerJson engineer(Engineer engineer) {
        return new EngineerJson(
                engineer.name(),
                engineer.days().stream()
                        .sorted()
                        .map(day -> day.name().substring(0, 3).toLowerCase(Locale.ROOT))
                        .toList(),
                engineer.skills().map(skills -> skills.stream().sorted().toList()),
                engineer.minutesPerDay());
    }

    public static WaitingJson of(Waiting waiting) {
        return new WaitingJson(NeedJson.of(waiting.need(), ""), waiting.reason().code(), waiting.words());
    }

    public static VisitJson of(VisitView view) {
        ZonedDateTime begins = view.begins();
        return new VisitJson(
                view.id(),
                view.site(),
                view.siteName(),
                view.zone().getId(),
                view.contact(),
                view.day(),
                begins.toLocalTime().toString(),
                view.minutes(),
                begins.toInstant(),
                begins.plusMinutes(view.minutes()).toInstant(),
                view.engineer(),
                view.state().code(),
                view.sequence(),
                view.note(),
                view.needs().stream().map(VisitJson::need).toList(),
                view.request().map(RequestJson::of),
                view.orders().stream()
                        .map(order -> OrderJson.of(order, view.day()))
                        .toList(),
                view.engineerAway(),
                view.createdAt(),
                view.changedAt(),
                view.changedBy(),
                view.history().stream()
                        .map(line -> new AlertJson.AuditJson(line.at(), line.who(), line.what(), line.why()))
                        .toList());
    }

    private static NeedJson need(Planned planned) {
        return NeedJson.of(planned.need(), planned.problem());
    }
}
