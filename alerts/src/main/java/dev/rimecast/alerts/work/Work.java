package dev.rimecast.alerts.work;

import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.photo.PlainJpeg;
import dev.rimecast.alerts.work.photo.StoredPhoto;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Reports of work: putting one in, and reading them. Safe for many threads. */
public interface Work {
    /**
     * Stores a report and, in the same transaction, its events in the site's log and a line in its case. The same id again
     * adds nothing: what was stored first stands.
     *
     * @param sites where it may be; a machine elsewhere is not there
     */
    Outcome report(SiteScope sites, String machine, WorkReport report, Person who);

    /**
     * Adds a photo to a report. The same id again adds nothing: what was stored first stands.
     *
     * @param sites where the report may be; one elsewhere is not there
     * @param id made by whoever sends it
     */
    PhotoOutcome addPhoto(SiteScope sites, UUID report, UUID id, PlainJpeg photo, Person who);

    /** The picture of a photo of that report, a JPEG. */
    Optional<byte[]> photo(SiteScope sites, UUID report, UUID id);

    /** Newest first. */
    List<StoredWork> ofMachine(SiteScope sites, String machine, Optional<UUID> after, int limit);

    Optional<StoredWork> one(SiteScope sites, UUID id);

    /**
     * Finished from {@code from} (inclusive) to {@code to} (exclusive), oldest first.
     *
     * @param machine only of this one, where present
     */
    List<StoredWork> between(SiteScope sites, Optional<String> machine, Instant from, Instant to);

    /** What really was wrong, as far as people found out: a row for each problem whose cause was found, oldest first. */
    List<FoundCause> outcomes(SiteScope sites);

    /** Calls from {@code from} (inclusive) to {@code to} (exclusive) that nothing had warned of, oldest first. */
    List<MissedCall> missedCalls(SiteScope sites, Instant from, Instant to);

    /** What ended, stood and was watched from {@code from} (inclusive) to {@code to} (exclusive). */
    Past past(SiteScope sites, Instant from, Instant to);

    /** How a photo ended. */
    sealed interface PhotoOutcome {
        record Added(StoredPhoto photo) implements PhotoOutcome {}

        /** It is there already, as it was stored first. */
        record Known(StoredPhoto photo) implements PhotoOutcome {}

        /** There is no such report. */
        record NotFound() implements PhotoOutcome {}

        /** The id is that of a photo of another report. */
        record Elsewhere() implements PhotoOutcome {}

        /** The report has as many as it may have. */
        record Full() implements PhotoOutcome {}
    }

    /** How a report ended. */
    sealed interface Outcome {
        record Added(StoredWork work) implements Outcome {}

        /** It is there already, as it was stored first. */
        record Known(StoredWork work) implements Outcome {}

        /** @param what is not there, in words */
        record NotFound(String what) implements Outcome {}

        /**
         * @param member which part of the report
         * @param reason in words after the member's name
         */
        record Refused(String member, String reason) implements Outcome {}
    }
}
