package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/** The newest values of one machine; channels by their order. */
final class LatestRow {
    /** The time of a channel that has not said anything. */
    static final long NEVER = Long.MIN_VALUE;

    final long[] times = new long[Channel.count()];
    final double[] numbers = new double[Channel.count()];

    @Nullable
    String phase;

    @Nullable
    String status;

    long newest = NEVER;
    /** Of the row in the database; 0 where there is none. */
    long version;

    LatestRow() {
        Arrays.fill(times, NEVER);
    }

    /** Returns whether the reading counts. */
    boolean take(Reading reading) {
        int place = reading.channel().ordinal();
        if (reading.timeMillis() <= times[place]) {
            return false;
        }
        times[place] = reading.timeMillis();
        numbers[place] = reading.value();
        newest = Math.max(newest, reading.timeMillis());
        if (reading.channel() == Channel.PHASE) {
            phase = reading.phase().code();
        } else if (reading.channel() == Channel.CONTROLLER_STATUS) {
            status = reading.text();
        }
        return true;
    }
}
