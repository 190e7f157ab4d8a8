package dev.rimecast.alerts.view;

import java.util.UUID;

/** What somebody may act on: only what their {@link ScopedViews} show; the rest is not there. */
public final class ScopedActions implements Actions {
    private final Actions all;
    private final Views seen;

    private ScopedActions(Actions all, Views seen) {
        this.all = all;
        this.seen = seen;
    }

    public static Actions of(Actions all, Views views, SiteScope scope) {
        return scope.isEvery() ? all : new ScopedActions(all, ScopedViews.of(views, scope));
    }

    @Override
    public Outcome act(UUID alert, long expectedVersion, Person who, Action action) {
        return seen.alert(alert).isPresent() ? all.act(alert, expectedVersion, who, action) : new Outcome.NoSuchAlert();
    }

    @Override
    public Outcome comment(UUID alert, Person who, String text) {
        return seen.alert(alert).isPresent() ? all.comment(alert, who, text) : new Outcome.NoSuchAlert();
    }

    @Override
    public HoldOutcome takeOutOfService(String machine, Person who, Action.TakeOutOfService action) {
        return seen.machine(machine).isPresent()
                ? all.takeOutOfService(machine, who, action)
                : new HoldOutcome.NotFound();
    }

    @Override
    public HoldOutcome endHold(UUID hold, Person who, String why) {
        return seen.hold(hold).isPresent() ? all.endHold(hold, who, why) : new HoldOutcome.NotFound();
    }

    @Override
    public CaseOutcome closeCase(UUID id, Person who, String why) {
        return seen.caseOf(id).isPresent() ? all.closeCase(id, who, why) : new CaseOutcome.NotFound();
    }
}
