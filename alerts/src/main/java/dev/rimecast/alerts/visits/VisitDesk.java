package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.view.AlertView.AuditLine;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.alerts.visits.VisitStore.Written;
import dev.rimecast.alerts.visits.plan.PartOrder;
import dev.rimecast.alerts.visits.plan.PlanSettings;
import dev.rimecast.alerts.visits.plan.Team;
import dev.rimecast.alerts.visits.plan.Waiting;
import dev.rimecast.telemetry.machine.Site;
import java.time.Instant;
import java.time.InstantSource;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.Supplier;

/** Where planning and people meet: what planning proposes, people accept, move, give back or cancel. */
public final class VisitDesk implements Visits {
    /** Told where an answer was lost and something was changed before it was sent again. */
    private static final String OTHERWISE =
            "This visit is made already, otherwise than asked for now: look for it in the list," + " and move it.";

    private final VisitStore store;
    private final Supplier<List<Site>> register;
    private final NeedSource needs;
    private final Means means;
    private final Team team;
    private final PlanSettings settings;
    private final MoveCheck moves;
    private final InstantSource clock;
    private final Consumer<Collection<Change>> changed;
    private final LastLook lastLook;

    /**
     * @param register the sites that there are
     * @param partsKnown whether a file says what takes time to come
     * @param mark as that of {@link VisitPass}, where other processes plan, too; else empty for ever
     * @param changed told what the pages should look at again, once it is kept
     */
    public VisitDesk(
            VisitStore store,
            Supplier<List<Site>> register,
            NeedSource needs,
            Team team,
            boolean partsKnown,
            PlanSettings settings,
            IceAhead ice,
            InstantSource clock,
            Supplier<String> mark,
            Consumer<Collection<Change>> changed) {
        this.store = store;
        this.register = register;
        this.needs = needs;
        this.team = team;
        this.means = new Means(team.engineers(), team.isKnown(), partsKnown, settings.horizonDays());
        this.settings = settings;
        this.moves = new MoveCheck(team, settings, ice);
        this.clock = clock;
        this.lastLook = new LastLook(mark, System::nanoTime);
        this.changed = changed;
    }

    /** One look at what there is to do. What it gives is a function of what is kept and of the day. */
    @Override
    public synchronized void plan() {
        TreeSet<String> sites = new TreeSet<>();
        lastLook.by(() -> {
            Ahead ahead = ahead();
            return ahead.known(store.change(
                    session -> ahead.planning(noting(session, sites)).run()));
        });
        changed.accept(sites.stream().map(VisitDesk::change).toList());
    }

    /** What planning would find now, here or in the process that planned last. */
    private LastLook.Known known() {
        return lastLook.now(() -> {
            Ahead ahead = ahead();
            return ahead.known(store.look(session -> ahead.planning(session).look()));
        });
    }

    private Ahead ahead() {
        Instant now = now();
        return new Ahead(team, settings, needs.read(now), zones(), now);
    }

    private Map<String, ZoneId> zones() {
        Map<String, ZoneId> zones = new HashMap<>();
        register.get().forEach(site -> zones.put(site.id(), site.timeZone()));
        return zones;
    }

    private static VisitStore.Session noting(VisitStore.Session session, TreeSet<String> sites) {
        return new NotingSession(session, sites);
    }

    private static Change change(String site) {
        return new Change("visit", site, "", "");
    }

    @Override
    public List<VisitView> list(SiteScope sites, Filter filter) {
        return views(store.list(sites, filter));
    }

    @Override
    public Optional<VisitView> one(UUID id) {
        return store.find(id).map(visit -> views(List.of(visit)).get(0));
    }

    @Override
    public List<VisitView> toOrder() {
        return views(store.list(SiteScope.EVERY, Filter.OPEN), needs.read(now()).orders());
    }

    @Override
    public List<Waiting> waiting(SiteScope sites) {
        return known().waiting().stream()
                .filter(each -> sites.includes(each.need().site()))
                .toList();
    }

    @Override
    public Means means() {
        return means;
    }

    /** What is to be ordered, as of the last look. */
    private List<VisitView> views(List<Visit> visits) {
        return views(visits, known().orders());
    }

    private List<VisitView> views(List<Visit> visits, Map<String, List<PartOrder>> known) {
        Map<String, Site> sites = new HashMap<>();
        register.get().forEach(site -> sites.put(site.id(), site));
        Map<UUID, List<AuditLine>> history =
                store.history(visits.stream().map(Visit::id).toList());
        return visits.stream()
                .map(visit -> {
                    Site site = sites.getOrDefault(visit.site(), Site.basic(visit.site()));
                    return new VisitView(
                            visit.id(),
                            visit.site(),
                            site.name(),
                            site.timeZone(),
                            site.contact(),
                            visit.day(),
                            visit.fromMinute(),
                            visit.minutes(),
                            visit.engineer(),
                            visit.state(),
                            visit.sequence(),
                            visit.note(),
                            visit.needs(),
                            visit.request(),
                            visit.state().isOpen() ? orders(visit, known) : List.of(),
                            isAway(visit),
                            visit.createdAt(),
                            visit.changedAt(),
                            visit.changedBy(),
                            history.getOrDefault(visit.id(), List.of()));
                })
                .toList();
    }

    private static List<PartOrder> orders(Visit visit, Map<String, List<PartOrder>> known) {
        return PartOrder.together(visit.needs().stream()
                .flatMap(planned -> known.getOrDefault(planned.need().id(), List.of()).stream())
                .toList());
    }

    /** Also where a file says so only since it was accepted. */
    private boolean isAway(Visit visit) {
        return visit.state().isOpen()
                && team.named(visit.engineer())
                        .filter(engineer -> engineer.isAway(visit.day()))
                        .isPresent();
    }

    @Override
    public Optional<MoveEffect> effect(UUID id, Target target, SiteScope sees) {
        Instant now = now();
        return store.find(id).map(visit -> moves.effect(visit, target, site(visit), others(visit), now, sees));
    }

    private Site site(Visit visit) {
        return siteOf(visit.site()).orElseGet(() -> Site.basic(visit.site()));
    }

    private List<Visit> others(Visit visit) {
        return store.list(SiteScope.EVERY, Filter.OPEN).stream()
                .filter(other -> !other.id().equals(visit.id()) && other.state() == State.ACCEPTED)
                .toList();
    }

    @Override
    public Optional<NewEffect> effect(NewVisit wanted, SiteScope sees) {
        Instant now = now();
        return siteOf(wanted.site()).map(site -> {
            Visit draft = ByHand.visit(wanted, "", now);
            String refused = moves.refused(draft, ByHand.target(wanted), site, now);
            if (!refused.isEmpty()) {
                return new NewEffect(refused, List.of(), List.of(), List.of(), "");
            }
            Ahead ahead = ahead();
            DrySession tried = store.look(session -> {
                DrySession dry = new DrySession(session, draft);
                dry.waits(ahead.planning(dry).run());
                return dry;
            });
            return ByHand.effect(
                    tried, moves.effect(tried.draft(), ByHand.target(wanted), site, others(draft), now, sees));
        });
    }

    @Override
    public Made make(NewVisit wanted, Person who) {
        Optional<Site> site = siteOf(wanted.site());
        if (site.isEmpty()) {
            return new Made.NoSite();
        }
        Stored stored = store(wanted, site.get(), who);
        if (!stored.refused().isEmpty()) {
            return new Made.Refused(stored.refused());
        }
        if (!stored.isNew()) {
            VisitView known = one(wanted.id()).orElseThrow();
            return ByHand.isOf(known, wanted) ? new Made.Known(known) : new Made.Refused(OTHERWISE);
        }
        plan();
        changed.accept(List.of(change(wanted.site())));
        return new Made.Added(one(wanted.id()).orElseThrow());
    }

    /** Whether a visit was made now, or before; or why not. */
    private record Stored(boolean isNew, String refused) {}

    private synchronized Stored store(NewVisit wanted, Site site, Person who) {
        Instant now = now();
        return store.change(session -> {
            if (session.find(wanted.id()).isPresent()) {
                return new Stored(false, "");
            }
            Visit visit = ByHand.visit(wanted, who.name(), now);
            String refused = moves.refused(visit, ByHand.target(wanted), site, now);
            if (refused.isEmpty()) {
                AuditLine line = new AuditLine(now, who.name(), "made by hand", ByHand.said(wanted));
                session.write(List.of(new Written(visit, Optional.of(line))));
            }
            return new Stored(true, refused);
        });
    }

    private Optional<Site> siteOf(String id) {
        return register.get().stream().filter(site -> site.id().equals(id)).findFirst();
    }

    @Override
    public Outcome accept(UUID id, int expectedSequence, Person who, String note) {
        return act(
                id,
                expectedSequence,
                who,
                "accepted",
                note,
                visit -> visit.state() == State.PROPOSED
                        ? new Step.To(visit.as(State.ACCEPTED, note))
                        : new Step.Refused("It is " + visit.state().code() + " already."));
    }

    @Override
    public Outcome move(UUID id, int expectedSequence, Person who, Target target, String note) {
        Optional<Visit> known = store.find(id);
        if (known.isEmpty()) {
            return new Outcome.NotFound();
        }
        Site site = site(known.get());
        List<Visit> others = others(known.get());
        return act(id, expectedSequence, who, "moved", note, visit -> {
            if (!visit.state().isOpen()) {
                return new Step.Refused("It is " + visit.state().code() + ".");
            }
            String refused = moves.refused(visit, target, site, now());
            List<String> early = note.isBlank() ? MoveCheck.unsaid(visit, target.day()) : List.of();
            if (refused.isEmpty() && !early.isEmpty()) {
                return new Step.Refused(early.get(0) + " Say in the note why somebody goes all the same.");
            }
            return refused.isEmpty()
                    ? new Step.To(
                            moves.moved(visit, target, site, others, now()).as(State.ACCEPTED, note))
                    : new Step.Refused(refused);
        });
    }

    @Override
    public Outcome release(UUID id, int expectedSequence, Person who, String note) {
        return act(id, expectedSequence, who, "given back to planning", note, visit -> {
            if (visit.state() != State.ACCEPTED) {
                return new Step.Refused("Only an accepted visit can be given back: it is "
                        + visit.state().code() + ".");
            }
            return visit.request().isPresent()
                    ? new Step.Refused("It was made by hand, and planning would not make it: move it, or cancel it.")
                    : new Step.To(visit.as(State.PROPOSED, note));
        });
    }

    @Override
    public Outcome cancel(UUID id, int expectedSequence, Person who, String reason) {
        return act(
                id,
                expectedSequence,
                who,
                "cancelled",
                reason,
                visit -> visit.state() == State.ACCEPTED
                        ? new Step.To(visit.as(State.CANCELLED, reason))
                        : new Step.Refused(
                                visit.state() == State.PROPOSED
                                        ? "It is only proposed: planning would propose it again. Move it, or close its cases."
                                        : "It is " + visit.state().code() + "."));
    }

    @Override
    public Outcome done(UUID id, int expectedSequence, Person who, String note) {
        return act(
                id,
                expectedSequence,
                who,
                "done",
                note,
                visit -> visit.state().isOpen()
                        ? new Step.To(visit.as(State.DONE, note))
                        : new Step.Refused("It is " + visit.state().code() + "."));
    }

    /** What an action comes to. */
    private sealed interface Step {
        record To(Visit visit) implements Step {}

        record Refused(String reason) implements Step {}
    }

    private synchronized Outcome act(
            UUID id, int expectedSequence, Person who, String what, String why, Function<Visit, Step> action) {
        Optional<Visit> known = store.find(id);
        if (known.isEmpty()) {
            return new Outcome.NotFound();
        }
        Instant now = now();
        Acted acted = store.change(session -> {
            Visit before = session.find(id).orElseThrow();
            if (before.sequence() != expectedSequence) {
                return new Acted(before, Optional.empty(), false);
            }
            Step step = action.apply(before);
            if (step instanceof Step.Refused refused) {
                return new Acted(before, Optional.of(refused.reason()), false);
            }
            Visit after = ((Step.To) step).visit().after(before, now, who.name());
            String said = what.equals("moved") ? "to " + after.day() + ", " + after.engineer() : "";
            String line = said.isEmpty() || why.isEmpty() ? said + why : said + ": " + why;
            session.write(List.of(new Written(after, Optional.of(new AuditLine(now, who.name(), what, line)))));
            return new Acted(after, Optional.empty(), true);
        });
        if (acted.isDone()) {
            plan();
            changed.accept(List.of(change(acted.visit().site())));
            return new Outcome.Done(one(id).orElseThrow());
        }
        VisitView stands = views(List.of(acted.visit())).get(0);
        return acted.refused().isPresent()
                ? new Outcome.NotAllowed(stands, acted.refused().get())
                : new Outcome.Changed(stands);
    }

    /** How an action ended, before anybody is told. */
    private record Acted(Visit visit, Optional<String> refused, boolean isDone) {}

    private Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MILLIS);
    }
}
