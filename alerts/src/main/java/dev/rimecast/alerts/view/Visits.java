package dev.rimecast.alerts.view;

import dev.rimecast.alerts.visits.plan.Engineer;
import dev.rimecast.alerts.visits.plan.Waiting;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/** What people see of visits and do with them. Each action is one transaction with its line in the history. */
public interface Visits {

    /**
     * Which visits are asked for.
     *
     * @param from the first day, as a day of each site
     * @param to the last day
     * @param states empty for all
     */
    record Filter(
            Optional<LocalDate> from,
            Optional<LocalDate> to,
            Optional<String> site,
            Optional<String> engineer,
            Set<VisitView.State> states) {
        public static final Filter OPEN = new Filter(
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Set.of(VisitView.State.PROPOSED, VisitView.State.ACCEPTED));

        public Filter {
            states = Set.copyOf(states);
        }
    }

    /**
     * Who and what planning counts with.
     *
     * @param teamKnown whether {@code engineers.csv} says who there is
     * @param partsKnown whether {@code parts.csv} says what takes time to come
     */
    record Means(List<Engineer> engineers, boolean teamKnown, boolean partsKnown, int horizonDays) {
        public Means {
            engineers = List.copyOf(engineers);
        }
    }

    /** By day, time and site; as many as {@link dev.rimecast.alerts.visits.VisitStore#list} has. */
    List<VisitView> list(SiteScope sites, Filter filter);

    Optional<VisitView> one(UUID id);

    /** What is open, with what to order for it as of now, also in a process that does not plan. */
    List<VisitView> toOrder();

    /** What is on no visit, and why; as of the last planning. */
    List<Waiting> waiting(SiteScope sites);

    Means means();

    /**
     * Where a visit goes.
     *
     * @param engineer absent: who goes now
     * @param fromMinute absent: when the site opens, or as soon as the engineer has time
     */
    record Target(LocalDate day, Optional<String> engineer, Optional<Integer> fromMinute) {}

    /**
     * What becomes of a visit that is moved.
     *
     * @param refused why it can't be; empty where it can
     * @param missed which dates it no longer meets
     * @param warnings what speaks against it
     * @param ice in the customer's unit: kilograms short, out of ice at what hour
     * @param from when it would begin, hour and minute at the site; empty where it can't be
     * @param noteNeeded whether the note must say why: a part that it needs is not expected by then
     */
    record MoveEffect(
            String refused, List<String> missed, List<String> warnings, String ice, String from, boolean noteNeeded) {
        public MoveEffect {
            missed = List.copyOf(missed);
            warnings = List.copyOf(warnings);
        }
    }

    /** For who sees every site. */
    default Optional<MoveEffect> effect(UUID id, Target target) {
        return effect(id, target, SiteScope.EVERY);
    }

    /** @param sees the sites that may be named */
    Optional<MoveEffect> effect(UUID id, Target target, SiteScope sees);

    /**
     * A visit as somebody wants it.
     *
     * @param id made by whoever asks, so that the same request twice makes one visit
     * @param fromMinute of the day, at the site
     */
    record NewVisit(UUID id, String site, LocalDate day, int fromMinute, String engineer, VisitRequest request) {}

    /**
     * What a visit that somebody wants means.
     *
     * @param refused why it can't be made; empty where it can
     * @param joins what planning would give to it
     * @param apart other visits to the same site that would be there all the same, and what waits there, with the reason
     * @param warnings what speaks against it
     * @param ice in the customer's unit; empty where nothing that joins it makes less ice
     */
    record NewEffect(String refused, List<String> joins, List<String> apart, List<String> warnings, String ice) {
        public NewEffect {
            joins = List.copyOf(joins);
            apart = List.copyOf(apart);
            warnings = List.copyOf(warnings);
        }
    }

    /** For who sees every site. */
    default Optional<NewEffect> effect(NewVisit wanted) {
        return effect(wanted, SiteScope.EVERY);
    }

    /**
     * Changes nothing; its id plays no part. Empty where there is no such site.
     *
     * @param sees the sites that may be named
     */
    Optional<NewEffect> effect(NewVisit wanted, SiteScope sees);

    /**
     * Makes a visit, which is accepted from the start: planning leaves it where it is and adds what fits. The same id again
     * adds nothing.
     */
    Made make(NewVisit wanted, Person who);

    /** How making a visit ended. */
    sealed interface Made {
        record Added(VisitView visit) implements Made {}

        /** It was made before: this is how it stands now. */
        record Known(VisitView visit) implements Made {}

        record NoSite() implements Made {}

        record Refused(String reason) implements Made {}
    }

    /** @param expectedSequence the one that the person looked at */
    Outcome accept(UUID id, int expectedSequence, Person who, String note);

    /** Moves it, which accepts it, too: planning would move it back else. Before a part that it needs, with a note only. */
    Outcome move(UUID id, int expectedSequence, Person who, Target target, String note);

    /** Gives an accepted visit back to planning. */
    Outcome release(UUID id, int expectedSequence, Person who, String note);

    /** What it was for goes back to planning. */
    Outcome cancel(UUID id, int expectedSequence, Person who, String reason);

    /** Somebody was there. */
    Outcome done(UUID id, int expectedSequence, Person who, String note);

    /** Plans now, without waiting for the next look. */
    void plan();

    /** How an action ended. */
    sealed interface Outcome {
        record Done(VisitView visit) implements Outcome {}

        record NotFound() implements Outcome {}

        /** Somebody else, or planning, was faster: this is how it stands now. */
        record Changed(VisitView visit) implements Outcome {}

        record NotAllowed(VisitView visit, String reason) implements Outcome {}
    }
}
