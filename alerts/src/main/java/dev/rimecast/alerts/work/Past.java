package dev.rimecast.alerts.work;

import dev.rimecast.telemetry.finding.Cause.Origin;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * What a span of time holds, for the figures of whoever answers for it.
 *
 * @param cases that ended in it, care and silence left out
 * @param stops of machines that made no ice in it; may overlap
 * @param mended cases in which work was reported in it and that are over: none of the work is known not to have held, and
 *     none of its machines had a new case of the same condition within 30 days of it
 * @param watched how long its machines were watched in it, together, s
 */
public record Past(List<Ended> cases, List<Stop> stops, Set<UUID> mended, double watched) {
    public Past {
        cases = List.copyOf(cases);
        stops = List.copyOf(stops);
        mended = Set.copyOf(mended);
    }

    /**
     * A case that ended.
     *
     * @param worked whether work was reported of it
     * @param visited whether a visit for it was done
     * @param answered whether the site answered a question about its machines meanwhile
     * @param reported origin of what was found, by the last report that says one
     * @param probable origin of the cause that was most probable last
     */
    public record Ended(
            UUID id,
            boolean worked,
            boolean visited,
            boolean answered,
            Optional<Origin> reported,
            Optional<Origin> probable) {
        /** Whether the site ended it, as far as anybody can tell. */
        public boolean isEndedBySite() {
            return answered && !worked && !visited;
        }

        /** Where it came from, as far as that is known. */
        public Optional<Origin> origin() {
            return reported.isPresent() || !isEndedBySite() ? reported : probable;
        }
    }

    /** @param until the end of it, or of the span */
    public record Stop(String machine, Instant from, Instant until) {}
}
