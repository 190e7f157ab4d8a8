package dev.rimecast.telemetry.proof;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.NameBasedId;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.UUID;

/**
 * Whether work on a machine has held, as far as its cycles show: after each of the first cycles, after ten, after 7 and after 30
 * days. A later revision says the same thing anew; the highest one counts.
 *
 * @param id see {@link #idOf}
 * @param revision 1 when the work was recorded, then counting up
 * @param workedAt when the work was done, as recorded
 * @param at event time of this revision
 * @param cause what the work was about: the cause that was found, where one was recorded, else the one that was likely
 * @param about what was wrong before; empty where nothing was, so that only the machine as it is can be looked at
 * @param probability that it has held, 0 to 1; absent while no cycle could be judged
 * @param cycles complete cycles since then that count
 * @param more cycles until it is as good as certain, if they are like those until now; absent where that can't be said
 * @param raisedSince conditions that came up since the work, whatever it was about
 * @param shown the numbers behind it
 * @param isLast whether nothing will follow
 * @param summary one or two sentences for a person, with numbers and units
 */
public record Proof(
        UUID id,
        int revision,
        String site,
        String machine,
        Instant workedAt,
        Instant at,
        Optional<Cause> cause,
        List<Condition> about,
        Check check,
        Verdict verdict,
        OptionalDouble probability,
        int cycles,
        OptionalInt more,
        List<Condition> raisedSince,
        List<Shown> shown,
        boolean isLast,
        String summary,
        String detectorVersion,
        String policyVersion) {

    public Proof {
        about = List.copyOf(about);
        raisedSince = List.copyOf(raisedSince);
        shown = List.copyOf(shown);
    }

    /**
     * One feature of the last cycle that was judged, against what this machine should do in these conditions.
     *
     * @param before what it would be in these conditions if nothing had been done, in the feature's unit; absent where nothing
     *     was wrong with it
     * @param measured in the feature's unit
     * @param expected in the feature's unit
     * @param sigma one standard deviation of what is normal around the expectation, in the feature's unit
     * @param cycles that were judged since the work
     */
    public record Shown(
            Feature feature,
            OptionalDouble before,
            double measured,
            double expected,
            double sigma,
            int cycles,
            double probability) {}

    /** The same work always has the same id. */
    public static UUID idOf(String machine, Instant workedAt) {
        return NameBasedId.of("proof|" + machine + '|' + workedAt.toEpochMilli());
    }
}
