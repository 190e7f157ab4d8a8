package dev.rimecast.alerts.view;

import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

/**
 * A link by which a site is asked, as those see it who asked.
 *
 * @param mailedTo the address that it went to; empty for one that was passed on by hand
 * @param answers in the order in which they came
 * @param receipt what it brought, once it is over
 */
public record SiteLinkView(
        UUID id,
        UUID caseId,
        String site,
        String machine,
        String madeBy,
        Instant madeAt,
        Instant endsAt,
        State state,
        Optional<String> revokedBy,
        Optional<String> mailedTo,
        List<Answered> answers,
        Optional<Receipt> receipt) {

    /** How it stands. */
    public enum State {
        /** The site can answer. */
        OPEN,
        /** What the site has put right has brought the machine back. */
        OVER,
        /** The case is closed, or nothing of the machine is open in it, for another reason. */
        SETTLED,
        /** Its time is over. */
        ENDED,
        REVOKED;

        public String code() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    public SiteLinkView {
        answers = List.copyOf(answers);
    }

    /**
     * What the site said.
     *
     * @param about what was asked, in a few words
     * @param words the answer
     * @param putsRight whether it says that something was put right
     */
    public record Answered(String check, String about, String words, boolean putsRight, Instant at) {}

    /**
     * What it brought.
     *
     * @param by the answer that says what was put right
     * @param overAt when the machine was found to be well again
     * @param cycles complete cycles since the answer
     * @param visited whether a visit or a changed part is recorded since the link was made
     */
    public record Receipt(Answered by, Instant overAt, int cycles, boolean visited) {}
}
