package dev.rimecast.analytics.proof;

import dev.rimecast.telemetry.cycle.Feature;
import java.util.Optional;

/** What is expected of a machine, as far as a proof needs it. */
public interface Expectations {
    /**
     * How a feature stands now.
     *
     * @param sinceMillis from when on its days are wanted as a trend
     * @return empty where the feature can't be judged
     */
    Optional<Standing> of(Feature feature, long sinceMillis);

    /**
     * The work has held: what is normal may be another level now.
     *
     * @param spread by about how much, on the feature's scale
     */
    void rebase(Feature feature, double spread);
}
