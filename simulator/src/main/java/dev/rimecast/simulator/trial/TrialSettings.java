package dev.rimecast.simulator.trial;

import dev.rimecast.telemetry.finding.Cause;
import java.time.Duration;
import java.util.EnumSet;
import java.util.Set;

/**
 * What a trial fleet is made from; the same settings give the same fleet.
 *
 * @param sites with three to five machines each
 * @param days of the run, at least {@value #FEWEST_DAYS}: faults begin after {@value #QUIET_DAYS} days
 * @param causes what goes wrong, by turns; none for a fleet in which nothing is wrong
 */
public record TrialSettings(
        long seed, int sites, int days, Duration sampling, TrialChannels channels, Set<Cause> causes) {
    /** Days before anything goes wrong. */
    static final int QUIET_DAYS = 15;

    private static final int FEWEST_DAYS = 25;

    public TrialSettings {
        causes = causes.isEmpty() ? Set.of() : Set.copyOf(EnumSet.copyOf(causes));
        if (sites < 1) {
            throw new IllegalArgumentException("a trial needs at least 1 site, was " + sites);
        }
        if (days < FEWEST_DAYS) {
            throw new IllegalArgumentException("a trial needs at least " + FEWEST_DAYS + " days, was " + days);
        }
        for (Cause cause : causes) {
            if (TrialFault.of(cause).isEmpty()) {
                throw new IllegalArgumentException(cause.code() + " is not simulated");
            }
        }
    }

    /** Everything that a trial can do. */
    public static Set<Cause> allCauses() {
        return TrialFault.causes();
    }
}
