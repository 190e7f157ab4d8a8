package dev.rimecast.telemetry.finding;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * What people were asked about a finding, and what is best asked next. Questions and answers are named by their ids; the
 * sentences belong to whoever shows them.
 *
 * @param given answers in the order in which they came, one for a question
 * @param next the question that splits the causes best for its cost; absent where none is worth asking
 * @param ofSite questions that the site can answer and that are worth asking, best first, at most three
 */
public record Inquiry(List<Given> given, Optional<Next> next, List<String> ofSite) {
    /** Nothing was asked and nothing is worth asking. */
    public static final Inquiry NONE = new Inquiry(List.of(), Optional.empty(), List.of());

    /** The answer that every question has, and that weighs nothing. */
    public static final String CANNOT_TELL = "cannot-tell";

    /** What a site can say instead of an answer: of the question it tells nothing. */
    public static final String STILL_NO_ICE = "still-no-ice";

    public Inquiry {
        given = List.copyOf(given);
        ofSite = List.copyOf(ofSite);
    }

    /**
     * An answer that counts as evidence.
     *
     * @param by who says so; may be empty
     * @param at when they said so
     * @param speaksFor causes that it makes more probable
     * @param speaksAgainst causes that it makes less probable
     */
    public record Given(
            String question, String answer, String by, Instant at, List<Cause> speaksFor, List<Cause> speaksAgainst) {
        public Given {
            speaksFor = List.copyOf(speaksFor);
            speaksAgainst = List.copyOf(speaksAgainst);
        }
    }

    /**
     * A question with what each answer would change.
     *
     * @param gainBits what its answer tells about the causes on average
     */
    public record Next(String question, double gainBits, List<Outcome> outcomes) {
        public Next {
            outcomes = List.copyOf(outcomes);
        }
    }

    /**
     * What would be thought after an answer.
     *
     * @param chance how probable the answer is, 0 to 1
     * @param cause the cause that would be most probable then
     * @param probability its probability then, 0 to 1
     */
    public record Outcome(String answer, double chance, Cause cause, double probability) {}
}
