package dev.rimecast.alerts.view;

import dev.rimecast.alerts.view.Actions.Outcome;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** What somebody may answer and ask: only about what their {@link ScopedViews} show. */
public final class ScopedInquiries implements Inquiries {
    private final Inquiries all;
    private final Views seen;
    private final SiteScope scope;

    private ScopedInquiries(Inquiries all, Views seen, SiteScope scope) {
        this.all = all;
        this.seen = seen;
        this.scope = scope;
    }

    public static Inquiries of(Inquiries all, Views views, SiteScope scope) {
        return scope.isEvery() ? all : new ScopedInquiries(all, ScopedViews.of(views, scope), scope);
    }

    @Override
    public Outcome answer(UUID alert, Person who, String question, String answer) {
        return seen.alert(alert).isPresent() ? all.answer(alert, who, question, answer) : new Outcome.NoSuchAlert();
    }

    @Override
    public LinkOutcome ask(UUID caseId, Optional<String> machine, Person who) {
        return seen.caseOf(caseId).isPresent() ? all.ask(caseId, machine, who) : new LinkOutcome.NoSuchCase();
    }

    @Override
    public LinkOutcome mail(UUID caseId, Optional<String> machine, Person who) {
        return seen.caseOf(caseId).isPresent() ? all.mail(caseId, machine, who) : new LinkOutcome.NoSuchCase();
    }

    @Override
    public Map<String, String> mailContacts(SiteScope sites) {
        return all.mailContacts(sites.and(scope));
    }

    @Override
    public List<SiteLinkView> links(SiteScope sites) {
        return all.links(sites.and(scope)).stream()
                .filter(link -> scope.includes(link.site()))
                .toList();
    }

    @Override
    public boolean revoke(UUID link, Person who) {
        return links(SiteScope.EVERY).stream().anyMatch(known -> known.id().equals(link)) && all.revoke(link, who);
    }
}
