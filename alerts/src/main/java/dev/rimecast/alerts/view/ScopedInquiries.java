package dev.rimecast.alerts.view;

import dev.rimecast.alerts.view.Actions.Outcome;
import java.util.UUID;

/** What somebody may answer and ask: only about what their {@link ScopedViews} show. */
public final class ScopedInquiries implements Inquiries {
    private final Inquiries all;
    private final Views seen;

    private ScopedInquiries(Inquiries all, Views seen) {
        this.all = all;
        this.seen = seen;
    }

    public static Inquiries of(Inquiries all, Views views, SiteScope scope) {
        return scope.isEvery() ? all : new ScopedInquiries(all, ScopedViews.of(views, scope));
    }

    @Override
    public Outcome answer(UUID alert, Person who, String question, String answer) {
        return seen.alert(alert).isPresent() ? all.answer(alert, who, question, answer) : new Outcome.NoSuchAlert();
    }
}
