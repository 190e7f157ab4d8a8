package dev.rimecast.alerts.view;

import java.util.Optional;
import java.util.UUID;

/** What people do with alerts, each in one transaction with its line in the audit. */
public interface Actions {

    /** @param expectedVersion the version that the person looked at */
    Outcome act(UUID alert, long expectedVersion, Person who, Action action);

    /** Says that somebody has seen it. */
    default Outcome acknowledge(UUID alert, long expectedVersion, String who, String why) {
        return act(alert, expectedVersion, new Person(who), new Action.Acknowledge(why));
    }

    /** Writes a note into an alert's history. It changes nothing else, so it needs no version. */
    Outcome comment(UUID alert, Person who, String text);

    /** Takes a machine out of service: none of its alerts counts until somebody returns it. */
    HoldOutcome takeOutOfService(String machine, Person who, Action.TakeOutOfService action);

    /** Ends a shelf before its time, or returns to service. What is still there counts again and is new. */
    HoldOutcome endHold(UUID hold, Person who, String why);

    /** Closes a case that holds only calls; one with open alerts closes when they are over. */
    CaseOutcome closeCase(UUID id, Person who, String why);

    /** How closing a case ended. */
    sealed interface CaseOutcome {
        record Done(CaseView view) implements CaseOutcome {}

        record NotFound() implements CaseOutcome {}

        record NotAllowed(String reason) implements CaseOutcome {}
    }

    /** How an action ended. */
    sealed interface Outcome {
        record Done(AlertView alert) implements Outcome {}

        record NoSuchAlert() implements Outcome {}

        /** Somebody else, or the machine itself, was faster: this is how it stands now. */
        record Changed(AlertView alert) implements Outcome {}

        /** The state does not allow it, e.g. it was acknowledged already. */
        record NotAllowed(AlertView alert, String reason) implements Outcome {}
    }

    /** How beginning or ending a hold ended. */
    sealed interface HoldOutcome {
        record Done(Hold hold) implements HoldOutcome {}

        /** There is no such machine, or no such hold. */
        record NotFound() implements HoldOutcome {}

        /** It is held already, or was ended already, or only its rule can end it. */
        record NotAllowed(String reason, Optional<Hold> hold) implements HoldOutcome {}
    }
}
