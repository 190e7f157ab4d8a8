package dev.rimecast.alerts.view;

import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * The notices that somebody may see: those about their sites. Digests, tests and the list of receivers are about every
 * site, so for a narrower scope they are not there.
 */
public final class ScopedNotices implements Notices {
    private final Notices all;
    private final SiteScope scope;

    private ScopedNotices(Notices all, SiteScope scope) {
        this.all = all;
        this.scope = scope;
    }

    public static Notices of(Notices all, SiteScope scope) {
        return scope.isEvery() ? all : new ScopedNotices(all, scope);
    }

    private boolean sees(NoticeView notice) {
        return notice.site().filter(scope::includes).isPresent();
    }

    @Override
    public List<NoticeView> list(SiteScope sites, Optional<UUID> after, int limit) {
        return all.list(sites.and(scope), after, limit).stream()
                .filter(this::sees)
                .toList();
    }

    @Override
    public Optional<NoticeView> notice(UUID id) {
        return all.notice(id).filter(this::sees);
    }

    @Override
    public List<ReceiverView> receivers() {
        return List.of();
    }

    @Override
    public Outcome retry(UUID id, Person who) {
        return notice(id).isPresent() ? all.retry(id, who) : new Outcome.NotFound();
    }

    @Override
    public Outcome test(String receiver, Person who) {
        return new Outcome.NotFound();
    }
}
