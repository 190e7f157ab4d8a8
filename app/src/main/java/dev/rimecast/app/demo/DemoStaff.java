package dev.rimecast.app.demo;

import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.Views;
import java.time.Duration;
import java.time.Instant;

/**
 * The people of the demonstration: they look once in a while, say that they have seen what is new, and close what is
 * over. What came up in the last day is left for whoever watches.
 */
final class DemoStaff {
    private static final Duration LOOKS_EVERY = Duration.ofHours(6);
    private static final Duration LEFT_FOR_THE_VISITOR = Duration.ofHours(24);
    private static final int AT_ONCE = 200;
    private static final String OPERATOR = "Robin (scripted)";

    private final Views views;
    private final Actions actions;
    private final Instant visitorComes;
    private Instant nextLook = Instant.MIN;

    /** @param visitorComes when the demonstration meets the present */
    DemoStaff(Views views, Actions actions, Instant visitorComes) {
        this.views = views;
        this.actions = actions;
        this.visitorComes = visitorComes;
    }

    void look(Instant now) {
        if (now.isBefore(nextLook) || now.isAfter(visitorComes)) {
            return;
        }
        nextLook = now.plus(LOOKS_EVERY);
        for (AlertView alert : views.alerts(AlertFilter.OPEN, AT_ONCE)) {
            Instant since = alert.clearedAt().orElse(alert.finding().raisedAt());
            if (since.isAfter(visitorComes.minus(LEFT_FOR_THE_VISITOR)) || since.isAfter(now.minus(LOOKS_EVERY))) {
                continue;
            }
            if (alert.state() == AlertState.LATCHED_UNACKNOWLEDGED
                    || alert.state() == AlertState.LATCHED_ACKNOWLEDGED) {
                actions.act(alert.finding().id(), alert.version(), new Person(OPERATOR), new Action.Reset("looked at"));
            } else if (alert.state().needsEyes()) {
                String why = alert.state() == AlertState.UNACKNOWLEDGED
                        ? "on the list for this week"
                        : "over, nothing left to do";
                actions.acknowledge(alert.finding().id(), alert.version(), OPERATOR, why);
            }
        }
    }
}
