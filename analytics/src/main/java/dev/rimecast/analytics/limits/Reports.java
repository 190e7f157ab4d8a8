package dev.rimecast.analytics.limits;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.telemetry.finding.Condition;

/** Stands between what rules report and the book of findings. */
public interface Reports {
    /** Lets everything through: what rules report live. */
    Reports ALL = new Reports() {};

    /** Whether the report is taken. */
    default boolean isTaken(Condition condition, long millis, Assessment assessment) {
        return true;
    }

    /** Whether its end is taken. */
    default boolean isOver(Condition condition, long millis, String summary) {
        return true;
    }
}
