package dev.rimecast.alerts.ice;

import java.time.Instant;
import java.util.Optional;

/** Whether and when a site runs out of ice. */
public sealed interface IceOutlook {

    /** The channels can't tell. */
    record NotKnown(String why) implements IceOutlook {}

    /** Not before {@code until}, even if everything goes against it. */
    record Enough(Instant until) implements IceOutlook {}

    /**
     * Runs out, or may.
     *
     * @param early if stock, draw and output are each one standard deviation worse than expected
     * @param likely as expected; absent where it is not before the horizon
     * @param late if each is one standard deviation better; absent where it is not before the horizon
     * @param kgShort what is missing in the 24 hours after it has run out, kg
     */
    record Short(Instant early, Optional<Instant> likely, Optional<Instant> late, double kgShort)
            implements IceOutlook {}
}
