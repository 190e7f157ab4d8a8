package dev.rimecast.alerts.view;

import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Marks on somebody's sites only; the rest is not there. */
public final class ScopedMarks implements Marks {
    private final Marks all;
    private final SiteScope scope;

    private ScopedMarks(Marks all, SiteScope scope) {
        this.all = all;
        this.scope = scope;
    }

    public static Marks of(Marks all, SiteScope scope) {
        return scope.isEvery() ? all : new ScopedMarks(all, scope);
    }

    @Override
    public List<Mark> list(SiteScope sites, Optional<String> machine, int limit) {
        return all.list(sites.and(scope), machine, limit);
    }

    @Override
    public List<Mark> standing(SiteScope sites) {
        return all.standing(sites.and(scope));
    }

    @Override
    public Optional<Mark> add(SiteScope sites, Mark.Said said, Person who) {
        return all.add(sites.and(scope), said, who);
    }

    @Override
    public boolean withdraw(SiteScope sites, UUID mark, Person who) {
        return all.withdraw(sites.and(scope), mark, who);
    }
}
