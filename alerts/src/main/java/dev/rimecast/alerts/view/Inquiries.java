package dev.rimecast.alerts.view;

import dev.rimecast.alerts.view.Actions.Outcome;
import java.util.List;
import java.util.Map;
import java.util.Optional;
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

    /**
     * Makes a link by which the site is asked about one machine of a case. An older one of the same case and machine no longer
     * works. Its alerts that nobody has seen are seen by this.
     *
     * @param machine may be empty where the case has one machine only
     */
    LinkOutcome ask(UUID caseId, Optional<String> machine, Person who);

    /** The same, and sends it to the site's contact by mail: whoever asks never sees its secret. */
    LinkOutcome mail(UUID caseId, Optional<String> machine, Person who);

    /** Where mail to sites goes, by site; sites that no mail reaches are not in it. */
    Map<String, String> mailContacts(SiteScope sites);

    /** Links of these sites that were made lately, newest first. */
    List<SiteLinkView> links(SiteScope sites);

    /** Ends a link; false if there is no such link, or it is over already. */
    boolean revoke(UUID link, Person who);

    /** How asking a site ended. */
    sealed interface LinkOutcome {
        /** @param secret told once; only its hash is kept */
        record Made(String secret, SiteLinkView link) implements LinkOutcome {}

        /** It is on its way. */
        record Mailed(SiteLinkView link) implements LinkOutcome {}

        record NoSuchCase() implements LinkOutcome {}

        record NotAllowed(String reason) implements LinkOutcome {}
    }
}
