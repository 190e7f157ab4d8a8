package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Visits.MoveEffect;
import dev.rimecast.alerts.view.Visits.Target;
import dev.rimecast.alerts.visits.plan.Engineer;
import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.alerts.visits.plan.Place;
import dev.rimecast.alerts.visits.plan.PlanSettings;
import dev.rimecast.alerts.visits.plan.Planned;
import dev.rimecast.alerts.visits.plan.Team;
import dev.rimecast.alerts.visits.plan.VisitPlanner;
import dev.rimecast.telemetry.machine.Site;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;

/** What becomes of a visit that is moved. */
final class MoveCheck {
    private static final DateTimeFormatter HOUR = DateTimeFormatter.ofPattern("EEE d MMM, HH:mm", Locale.ENGLISH);

    private static final double LEAST_KG = 0.5;

    private final Team team;
    private final PlanSettings settings;
    private final IceAhead ice;

    MoveCheck(Team team, PlanSettings settings, IceAhead ice) {
        this.team = team;
        this.settings = settings;
        this.ice = ice;
    }

    /**
     * @param others accepted visits, which take engineers' time
     * @param sees the sites that may be named
     */
    MoveEffect effect(Visit visit, Target target, Site site, List<Visit> others, Instant now, SiteScope sees) {
        String refused = refused(visit, target, site, now);
        if (!refused.isEmpty()) {
            return new MoveEffect(refused, List.of(), List.of(), "", "", false);
        }
        Visit moved = moved(visit, target, site, others, now);
        List<String> missed = visit.needs().stream()
                .map(Planned::need)
                .filter(need -> need.latest().filter(moved.day()::isAfter).isPresent())
                .map(need -> need.title() + " (" + String.join(", ", need.machines()) + "): should be done by "
                        + need.latest().orElseThrow())
                .toList();
        return new MoveEffect(
                "",
                missed,
                warnings(moved, site, others, sees),
                iceWords(visit, moved, site, now),
                time(moved.fromMinute()),
                !unsaid(visit, target.day()).isEmpty());
    }

    Visit moved(Visit visit, Target target, Site site, List<Visit> others, Instant now) {
        String engineer = target.engineer().orElse(visit.engineer());
        int from = target.fromMinute()
                .orElseGet(() -> VisitPlanner.firstFree(
                        engineer,
                        target.day(),
                        NeedReader.place(site).fromMinute(),
                        visit.minutes(),
                        others.stream().map(Visit::booking).toList(),
                        settings.travelMinutes()));
        List<Planned> needs = visit.needs().stream()
                .map(planned -> new Planned(
                        planned.need(),
                        VisitPlanner.problem(
                                planned.need(), target.day(), team, new VisitPlanner.Start(today(site, now), 0))))
                .toList();
        return visit.with(target.day(), from, visit.minutes(), engineer, needs);
    }

    private static LocalDate today(Site site, Instant now) {
        return now.atZone(site.timeZone()).toLocalDate();
    }

    /** Why it can't be moved there; empty where it can. */
    String refused(Visit visit, Target target, Site site, Instant now) {
        String name = target.engineer().orElse(visit.engineer());
        Optional<Engineer> engineer = team.named(name);
        LocalDate today = today(site, now);
        if (target.day().isBefore(today)) {
            return "That day is over.";
        }
        if (target.day().isAfter(today.plusYears(1))) {
            return "That is more than a year away.";
        }
        if (engineer.isEmpty()) {
            return "There is no engineer called " + name + ".";
        }
        if (!engineer.get().goesTo(visit.site())) {
            return name + " does not go to this site.";
        }
        Set<String> missing = new TreeSet<>();
        for (Planned planned : visit.needs()) {
            planned.need().skills().stream()
                    .filter(skill -> !engineer.get().has(Set.of(skill)))
                    .forEach(missing::add);
        }
        if (!missing.isEmpty()) {
            return name + " lacks what this needs: " + String.join(", ", missing) + ".";
        }
        return "";
    }

    /** What it needs and planning does not count on by that day. */
    private static List<String> early(Visit visit, LocalDate day) {
        return visit.needs().stream()
                .map(Planned::need)
                .filter(need -> need.earliest().isAfter(day))
                .map(need -> need.title() + ": a part that it needs is not expected before " + need.earliest() + ".")
                .distinct()
                .toList();
    }

    /** Of that what a note must say, since the visit is not on that day yet. */
    static List<String> unsaid(Visit visit, LocalDate day) {
        return day.equals(visit.day()) ? List.of() : early(visit, day);
    }

    private List<String> warnings(Visit moved, Site site, List<Visit> others, SiteScope sees) {
        List<String> warnings = new ArrayList<>(early(moved, moved.day()));
        Place place = NeedReader.place(site);
        Engineer engineer = team.named(moved.engineer()).orElseThrow();
        if (!place.isOpen(moved.day())) {
            warnings.add("The site is closed that day.");
        }
        if (engineer.isAway(moved.day())) {
            warnings.add(moved.engineer() + " is away that day.");
        } else if (!engineer.works(moved.day())) {
            warnings.add(moved.engineer() + " does not work that day.");
        }
        int taken = others.stream()
                .filter(other ->
                        other.engineer().equals(moved.engineer()) && other.day().equals(moved.day()))
                .mapToInt(other -> other.minutes() + settings.travelMinutes())
                .sum();
        int all = taken + moved.minutes() + settings.travelMinutes();
        if (all > engineer.minutesPerDay()) {
            warnings.add("With the way that is " + all + " minutes for " + moved.engineer() + " that day, of "
                    + engineer.minutesPerDay() + ".");
        }
        if (site.open().isPresent() && moved.fromMinute() < site.open().get().toSecondOfDay() / 60) {
            warnings.add("The site opens at " + site.open().get() + ".");
        }
        others.stream()
                .filter(other -> overlaps(moved, other))
                .forEach(other -> warnings.add(moved.engineer()
                        + (sees.includes(other.site()) ? " is at " + other.site() : " is elsewhere") + " from "
                        + time(other.fromMinute()) + " to "
                        + time(other.fromMinute() + other.minutes()) + ", and has " + settings.travelMinutes()
                        + " minutes of way."));
        if (site.close().isPresent()
                && site.open().isPresent()
                && site.close().get().isAfter(site.open().get())
                && moved.fromMinute() + moved.minutes() > site.close().get().toSecondOfDay() / 60) {
            warnings.add("The site closes at " + site.close().get() + ".");
        }
        return warnings;
    }

    /** Also where there is no time for the way between them. */
    private boolean overlaps(Visit moved, Visit other) {
        return other.engineer().equals(moved.engineer())
                && other.day().equals(moved.day())
                && moved.fromMinute() < other.fromMinute() + other.minutes() + settings.travelMinutes()
                && other.fromMinute() < moved.fromMinute() + moved.minutes() + settings.travelMinutes();
    }

    private static String time(int minute) {
        return LocalTime.MIN.plusMinutes(minute).toString();
    }

    private String iceWords(Visit before, Visit moved, Site site, Instant now) {
        if (!makesLessIce(before)) {
            return "";
        }
        Optional<Instant> out = ice.runsOut(before.site(), now);
        OptionalDouble then = ice.kgShort(before.site(), now, begins(moved, site));
        if (then.isEmpty()) {
            return out.map(at -> "The site is out of ice at " + hour(at, site) + "; how much it lacks by "
                            + hour(begins(moved, site), site) + " nobody can tell.")
                    .orElse("Nobody can tell what this means for the site's ice.");
        }
        OptionalDouble asIs = ice.kgShort(before.site(), now, begins(before, site));
        String until = "By " + hour(begins(moved, site), site) + " the site is " + kg(then.getAsDouble())
                + outWords(then.getAsDouble(), out, site);
        boolean same = moved.day().equals(before.day()) && moved.fromMinute() == before.fromMinute();
        return asIs.isEmpty() || same
                ? until + '.'
                : until + "; as planned now, by " + hour(begins(before, site), site) + ", " + kg(asIs.getAsDouble())
                        + '.';
    }

    private static String outWords(double kgShort, Optional<Instant> out, Site site) {
        return kgShort < LEAST_KG
                ? ""
                : out.map(at -> ", out of ice at " + hour(at, site)).orElse("");
    }

    /** Care leaves the ice as it is. */
    private static boolean makesLessIce(Visit visit) {
        return visit.needs().stream().anyMatch(planned -> planned.need().kind() == Need.Kind.CASE);
    }

    private static String kg(double kg) {
        return kg < LEAST_KG ? "not short of ice" : "about " + Math.round(kg) + " kg short";
    }

    private static Instant begins(Visit visit, Site site) {
        return visit.day()
                .atStartOfDay(site.timeZone())
                .withHour(visit.fromMinute() / 60)
                .withMinute(visit.fromMinute() % 60)
                .toInstant();
    }

    private static String hour(Instant at, Site site) {
        return HOUR.format(at.atZone(site.timeZone()));
    }
}
