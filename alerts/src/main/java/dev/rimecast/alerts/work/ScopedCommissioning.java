package dev.rimecast.alerts.work;

import dev.rimecast.alerts.acceptance.AcceptanceView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import java.util.List;

/** Commissioning on somebody's sites only; the rest is not there. */
public final class ScopedCommissioning implements Commissioning {
    private final Commissioning all;
    private final SiteScope scope;

    private ScopedCommissioning(Commissioning all, SiteScope scope) {
        this.all = all;
        this.scope = scope;
    }

    public static Commissioning of(Commissioning all, SiteScope scope) {
        return scope.isEvery() ? all : new ScopedCommissioning(all, scope);
    }

    @Override
    public Outcome commission(SiteScope sites, String machine, Commissioned record, Person who) {
        return all.commission(sites.and(scope), machine, record, who);
    }

    @Override
    public List<Commissioned.Stored> commissionings(SiteScope sites, String machine) {
        return all.commissionings(sites.and(scope), machine);
    }

    @Override
    public List<AcceptanceView> acceptances(SiteScope sites, String machine) {
        return all.acceptances(sites.and(scope), machine);
    }
}
