package dev.rimecast.alerts.view;

import dev.rimecast.alerts.visits.plan.Waiting;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Supplier;

/** Visits of the sites that somebody may see; those of other sites are not there. */
public final class ScopedVisits implements Visits {
    private final Visits all;
    private final SiteScope scope;

    private ScopedVisits(Visits all, SiteScope scope) {
        this.all = all;
        this.scope = scope;
    }

    public static Visits of(Visits all, SiteScope scope) {
        return scope.isEvery() ? all : new ScopedVisits(all, scope);
    }

    @Override
    public List<VisitView> list(SiteScope sites, Filter filter) {
        return all.list(sites.and(scope), filter).stream()
                .filter(visit -> scope.includes(visit.site()))
                .toList();
    }

    @Override
    public Optional<VisitView> one(UUID id) {
        return all.one(id).filter(visit -> scope.includes(visit.site()));
    }

    @Override
    public List<VisitView> toOrder() {
        return all.toOrder().stream()
                .filter(visit -> scope.includes(visit.site()))
                .toList();
    }

    @Override
    public List<Waiting> waiting(SiteScope sites) {
        return all.waiting(sites.and(scope)).stream()
                .filter(each -> scope.includes(each.need().site()))
                .toList();
    }

    /** Only who goes to one of the sites. */
    @Override
    public Means means() {
        Means means = all.means();
        return new Means(
                means.engineers().stream()
                        .filter(e -> scope.sites().stream().anyMatch(e::goesTo))
                        .toList(),
                means.teamKnown(),
                means.partsKnown(),
                means.horizonDays());
    }

    @Override
    public Optional<MoveEffect> effect(UUID id, Target target, SiteScope sees) {
        return one(id).flatMap(visit -> all.effect(id, target, sees.and(scope)));
    }

    @Override
    public Optional<NewEffect> effect(NewVisit wanted, SiteScope sees) {
        return scope.includes(wanted.site()) ? all.effect(wanted, sees.and(scope)) : Optional.empty();
    }

    @Override
    public Made make(NewVisit wanted, Person who) {
        return scope.includes(wanted.site()) ? all.make(wanted, who) : new Made.NoSite();
    }

    @Override
    public Outcome accept(UUID id, int expectedSequence, Person who, String note) {
        return seen(id, () -> all.accept(id, expectedSequence, who, note));
    }

    @Override
    public Outcome move(UUID id, int expectedSequence, Person who, Target target, String note) {
        return seen(id, () -> all.move(id, expectedSequence, who, target, note));
    }

    @Override
    public Outcome release(UUID id, int expectedSequence, Person who, String note) {
        return seen(id, () -> all.release(id, expectedSequence, who, note));
    }

    @Override
    public Outcome cancel(UUID id, int expectedSequence, Person who, String reason) {
        return seen(id, () -> all.cancel(id, expectedSequence, who, reason));
    }

    @Override
    public Outcome done(UUID id, int expectedSequence, Person who, String note) {
        return seen(id, () -> all.done(id, expectedSequence, who, note));
    }

    @Override
    public void plan() {
        all.plan();
    }

    private Outcome seen(UUID id, Supplier<Outcome> action) {
        return one(id).isPresent() ? action.get() : new Outcome.NotFound();
    }
}
