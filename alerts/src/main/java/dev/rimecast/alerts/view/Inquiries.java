package dev.rimecast.alerts.view;

import dev.rimecast.alerts.view.Actions.Outcome;
import java.util.UUID;

/** What people with an account answer and ask. */
public interface Inquiries {

    /**
     * Answers a question about an alert. It goes into the site's log as {@code question:answer}, and comes back as a new
     * revision of every finding of the machine.
     *
     * @throws IllegalArgumentException if there is no such question or answer
     */
    Outcome answer(UUID alert, Person who, String question, String answer);
}
