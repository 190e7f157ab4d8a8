package dev.rimecast.alerts.work;

import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.photo.PlainJpeg;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Work on somebody's sites only; the rest is not there. */
public final class ScopedWork implements Work {
    private final Work all;
    private final SiteScope scope;

    private ScopedWork(Work all, SiteScope scope) {
        this.all = all;
        this.scope = scope;
    }

    public static Work of(Work all, SiteScope scope) {
        return scope.isEvery() ? all : new ScopedWork(all, scope);
    }

    @Override
    public Outcome report(SiteScope sites, String machine, WorkReport report, Person who) {
        return all.report(sites.and(scope), machine, report, who);
    }

    @Override
    public PhotoOutcome addPhoto(SiteScope sites, UUID report, UUID id, PlainJpeg photo, Person who) {
        return all.addPhoto(sites.and(scope), report, id, photo, who);
    }

    @Override
    public Optional<byte[]> photo(SiteScope sites, UUID report, UUID id) {
        return all.photo(sites.and(scope), report, id);
    }

    @Override
    public List<StoredWork> ofMachine(SiteScope sites, String machine, Optional<UUID> after, int limit) {
        return all.ofMachine(sites.and(scope), machine, after, limit);
    }

    @Override
    public Optional<StoredWork> one(SiteScope sites, UUID id) {
        return all.one(sites.and(scope), id);
    }

    @Override
    public List<StoredWork> between(SiteScope sites, Optional<String> machine, Instant from, Instant to) {
        return all.between(sites.and(scope), machine, from, to);
    }

    @Override
    public List<FoundCause> outcomes(SiteScope sites) {
        return all.outcomes(sites.and(scope));
    }

    @Override
    public List<MissedCall> missedCalls(SiteScope sites, Instant from, Instant to) {
        return all.missedCalls(sites.and(scope), from, to);
    }

    @Override
    public Past past(SiteScope sites, Instant from, Instant to) {
        return all.past(sites.and(scope), from, to);
    }
}
