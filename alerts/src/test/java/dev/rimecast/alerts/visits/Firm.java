package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.visits.plan.Engineer;
import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.alerts.visits.plan.PartOrder;
import dev.rimecast.alerts.visits.plan.PlanSettings;
import dev.rimecast.alerts.visits.plan.Team;
import dev.rimecast.alerts.visits.plan.VisitPlanner.Start;
import dev.rimecast.telemetry.machine.Site;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.Supplier;

/** An invented firm: two engineers, three sites, and needs that come and go as a test says. */
public final class Firm {
    public static final ZoneId ZONE = ZoneId.of("Europe/London");
    private static final Set<DayOfWeek> WORKING = EnumSet.range(DayOfWeek.MONDAY, DayOfWeek.FRIDAY);

    /** A Monday, in the morning. */
    public static final Instant MONDAY = Instant.parse("2026-05-04T07:00:00Z");

    public static final LocalDate TODAY = LocalDate.of(2026, 5, 4);

    public final Map<String, Need> needs = new TreeMap<>();
    final Map<String, List<PartOrder>> orders = new TreeMap<>();
    public Instant now = MONDAY;
    final VisitStore store;
    public final VisitDesk desk;

    public Firm(VisitStore store, IceAhead ice) {
        this(store, ice, team());
    }

    Firm(VisitStore store, IceAhead ice, Team team) {
        this(store, ice, team, () -> "");
    }

    /** @param mark where others plan, too: changes whenever they may have */
    Firm(VisitStore store, IceAhead ice, Team team, Supplier<String> mark) {
        this.store = store;
        this.desk = new VisitDesk(
                store,
                () -> List.of(site("s0"), site("s1"), site("s2")),
                this::found,
                team,
                true,
                PlanSettings.STANDARD,
                ice,
                () -> now,
                mark,
                changes -> {});
    }

    static Team team() {
        return new Team(
                List.of(
                        new Engineer("Bo", WORKING, Optional.of(Set.of("appliance")), Optional.empty(), 480),
                        new Engineer(
                                "Cem",
                                EnumSet.of(DayOfWeek.TUESDAY, DayOfWeek.THURSDAY),
                                Optional.of(Set.of("appliance", "refrigeration")),
                                Optional.empty(),
                                420)),
                true);
    }

    public static Site site(String id) {
        return new Site(
                id,
                "Site " + id,
                ZONE,
                Optional.of(LocalTime.of(9, 0)),
                Optional.of(LocalTime.of(23, 0)),
                Set.of(DayOfWeek.SUNDAY),
                Optional.empty(),
                Optional.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty());
    }

    NeedSource.Found found(Instant at) {
        return new NeedSource.Found(
                List.copyOf(needs.values()),
                List.of("s0", "s1", "s2").stream()
                        .map(id -> NeedReader.place(site(id)))
                        .toList(),
                new Start(at.atZone(ZONE).toLocalDate(), 0),
                Map.copyOf(orders));
    }

    public Need open(String id, String site, LocalDate earliest, Optional<LocalDate> latest, Set<String> skills) {
        Need need = new Need(
                "case-" + id,
                Need.Kind.CASE,
                UUID.nameUUIDFromBytes(id.getBytes(java.nio.charset.StandardCharsets.UTF_8)),
                site,
                "trouble " + id,
                "",
                List.of("m-" + id),
                earliest,
                latest,
                60,
                skills,
                List.of("Part of " + id),
                false,
                now.atZone(ZONE).toLocalDateTime());
        needs.put(need.id(), need);
        return need;
    }

    public Need open(String id, String site, LocalDate latest) {
        return open(id, site, TODAY, Optional.of(latest), Set.of("appliance"));
    }
}
