package dev.rimecast.telemetry.finding;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;

/**
 * One step in the life of a finding: raised, updated or cleared. One finding is open per subject and condition at a
 * time; its id is a function of subject, condition and the event time of the raise, so the same input twice makes the
 * same finding once.
 *
 * @param id see {@link #idOf}
 * @param revision 1 for the raise, then counting up; a repeat has the same revision
 * @param site the site it is on
 * @param machine empty for a finding about a gateway or the whole site
 * @param gateway the gateway, for a finding about one
 * @param at event time of this step
 * @param raisedAt event time of the raise, the same in every revision
 * @param causes most probable first; empty where nothing can be said
 * @param measure the number behind it, where there is one
 * @param limit when the limit is expected to be reached, where that can be said
 * @param summary one sentence for a person, with numbers and units; empty in a revision that only an answer has brought, which
 *     changes probabilities and nothing else: see {@link #withWordsOf}
 * @param inquiry what people were asked, and what is best asked next
 * @param grounds the numbers that decided; empty where this step was decided by none, or comes from a version that did not
 *     say: see {@link #withGroundsOf}
 */
public record Finding(
        UUID id,
        int revision,
        Step step,
        String site,
        Optional<String> machine,
        Optional<String> gateway,
        Condition condition,
        Stage stage,
        Priority priority,
        Instant at,
        Instant raisedAt,
        List<ProbableCause> causes,
        Optional<Measure> measure,
        Optional<LimitExpected> limit,
        String summary,
        String detectorVersion,
        String policyVersion,
        Inquiry inquiry,
        List<Ground> grounds) {

    /** What this step does. */
    public enum Step {
        RAISED,
        UPDATED,
        CLEARED
    }

    /**
     * A cause with its evidence.
     *
     * @param probability 0 to 1
     * @param evidenceFor sentences
     * @param evidenceAgainst sentences
     */
    public record ProbableCause(
            Cause cause, double probability, List<String> evidenceFor, List<String> evidenceAgainst) {
        public ProbableCause {
            if (!(probability >= 0 && probability <= 1)) {
                throw new IllegalArgumentException(
                        "probability of " + cause.code() + " must be from 0 to 1, was " + probability);
            }
            evidenceFor = List.copyOf(evidenceFor);
            evidenceAgainst = List.copyOf(evidenceAgainst);
        }
    }

    /**
     * The number behind a finding.
     *
     * @param quantity what was measured, e.g. {@code pull-down}
     * @param unit SenML unit
     * @param value what it is now
     * @param expected what this machine should show in these conditions
     * @param limit where the machine's own controller stops
     */
    public record Measure(String quantity, String unit, double value, OptionalDouble expected, OptionalDouble limit) {}

    /** When the limit is reached: most likely, and the ends of the 80 % interval. */
    public record LimitExpected(Instant at, Instant early, Instant late) {
        public LimitExpected {
            if (early.isAfter(at) || late.isBefore(at)) {
                throw new IllegalArgumentException(
                        "early " + early + ", at " + at + ", late " + late + " are out of order");
            }
        }
    }

    public Finding {
        if (revision < 1) {
            throw new IllegalArgumentException("revision counts from 1, was " + revision);
        }
        causes = List.copyOf(causes);
        grounds = List.copyOf(grounds);
    }

    /** A finding that does not say which numbers decided. */
    public Finding(
            UUID id,
            int revision,
            Step step,
            String site,
            Optional<String> machine,
            Optional<String> gateway,
            Condition condition,
            Stage stage,
            Priority priority,
            Instant at,
            Instant raisedAt,
            List<ProbableCause> causes,
            Optional<Measure> measure,
            Optional<LimitExpected> limit,
            String summary,
            String detectorVersion,
            String policyVersion,
            Inquiry inquiry) {
        this(
                id,
                revision,
                step,
                site,
                machine,
                gateway,
                condition,
                stage,
                priority,
                at,
                raisedAt,
                causes,
                measure,
                limit,
                summary,
                detectorVersion,
                policyVersion,
                inquiry,
                List.of());
    }

    /** A finding about which nobody is asked anything. */
    public Finding(
            UUID id,
            int revision,
            Step step,
            String site,
            Optional<String> machine,
            Optional<String> gateway,
            Condition condition,
            Stage stage,
            Priority priority,
            Instant at,
            Instant raisedAt,
            List<ProbableCause> causes,
            Optional<Measure> measure,
            Optional<LimitExpected> limit,
            String summary,
            String detectorVersion,
            String policyVersion) {
        this(
                id,
                revision,
                step,
                site,
                machine,
                gateway,
                condition,
                stage,
                priority,
                at,
                raisedAt,
                causes,
                measure,
                limit,
                summary,
                detectorVersion,
                policyVersion,
                Inquiry.NONE);
    }

    /** Whether this revision says only what an answer has changed. */
    public boolean isOfAnswer() {
        return step == Step.UPDATED && summary.isEmpty();
    }

    /** This revision, if it is only of an answer, with the summary and the evidence that the one before it had. */
    public Finding withWordsOf(Finding before) {
        if (!isOfAnswer()) {
            return this;
        }
        List<ProbableCause> worded = causes.stream()
                .map(cause -> before.causes.stream()
                        .filter(known -> known.cause() == cause.cause())
                        .findFirst()
                        .map(known -> new ProbableCause(
                                cause.cause(), cause.probability(), known.evidenceFor(), known.evidenceAgainst()))
                        .orElse(cause))
                .toList();
        return new Finding(
                id,
                revision,
                step,
                site,
                machine,
                gateway,
                condition,
                stage,
                priority,
                at,
                raisedAt,
                worded,
                measure,
                limit,
                before.summary,
                detectorVersion,
                policyVersion,
                inquiry,
                grounds);
    }

    /** This revision with the grounds of the one before it, where it has none of its own: an end, or an answer. */
    public Finding withGroundsOf(Finding before) {
        return grounds.isEmpty() ? withGrounds(before.grounds) : this;
    }

    public Finding withGrounds(List<Ground> decisive) {
        return new Finding(
                id,
                revision,
                step,
                site,
                machine,
                gateway,
                condition,
                stage,
                priority,
                at,
                raisedAt,
                causes,
                measure,
                limit,
                summary,
                detectorVersion,
                policyVersion,
                inquiry,
                decisive);
    }

    /** The cause that is shown first. */
    public Optional<ProbableCause> probableCause() {
        return causes.isEmpty() ? Optional.empty() : Optional.of(causes.get(0));
    }

    /**
     * Name-based id (version 5, RFC 9562 section 5.5) of {@code subject|condition|raisedAt}.
     *
     * @param subject machine, or {@code gateway:…}, or {@code site:…}
     */
    public static UUID idOf(String subject, Condition condition, Instant raisedAt) {
        return NameBasedId.of(
                (subject + '|' + condition.code() + '|' + raisedAt.toEpochMilli()).getBytes(StandardCharsets.UTF_8));
    }
}
