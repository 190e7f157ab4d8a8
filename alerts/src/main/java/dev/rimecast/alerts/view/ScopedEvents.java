package dev.rimecast.alerts.view;

import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.WarmestOfDay;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** What somebody may see and report: only of their sites; the rest is not there. */
public final class ScopedEvents implements Events {
    private final Events all;
    private final SiteScope scope;

    private ScopedEvents(Events all, SiteScope scope) {
        this.all = all;
        this.scope = scope;
    }

    public static Events of(Events all, SiteScope scope) {
        return scope.isEvery() ? all : new ScopedEvents(all, scope);
    }

    @Override
    public List<EventView> ofMachine(SiteScope sites, String machine, Optional<Long> before, int limit) {
        return all.ofMachine(sites.and(scope), machine, before, limit);
    }

    @Override
    public List<EventView> ofSite(SiteScope sites, String site, Optional<Long> before, int limit) {
        return all.ofSite(sites.and(scope), site, before, limit);
    }

    @Override
    public List<EventView> newestOf(SiteScope sites, String machine, Set<EventKind> kinds) {
        return all.newestOf(sites.and(scope), machine, kinds);
    }

    @Override
    public List<Outcome> report(SiteScope sites, List<Report> reports, Person who) {
        return all.report(sites.and(scope), reports, who);
    }

    @Override
    public Set<String> expectWeather(SiteScope sites, Map<String, List<WarmestOfDay>> days) {
        return all.expectWeather(sites.and(scope), days);
    }

    @Override
    public List<WeighedHarvest> weighed(SiteScope sites, String machine, int limit) {
        return all.weighed(sites.and(scope), machine, limit);
    }
}
