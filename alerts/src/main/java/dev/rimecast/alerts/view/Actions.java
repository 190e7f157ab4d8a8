package dev.rimecast.alerts.view;

import java.util.UUID;

/** What people do with an alert. */
public interface Actions {

    /**
     * Says that somebody has seen it.
     *
     * @param expectedVersion the version that the person looked at
     */
    Outcome acknowledge(UUID alert, long expectedVersion, String who, String why);

    /** How an action ended. */
    sealed interface Outcome {
        record Done(AlertView alert) implements Outcome {}

        record NoSuchAlert() implements Outcome {}

        /** Somebody else, or the machine itself, was faster: this is how it stands now. */
        record Changed(AlertView alert) implements Outcome {}

        /** The state does not allow it, e.g. it was acknowledged already. */
        record NotAllowed(AlertView alert, String reason) implements Outcome {}
    }
}
