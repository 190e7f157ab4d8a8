package dev.rimecast.telemetry.senml;

import dev.rimecast.telemetry.reading.Reading;
import java.util.List;

/**
 * How readings become records: base name and base time stand once per run of readings of one machine, a record's own
 * time only where it differs from its base. Both encoders follow it.
 */
final class PackLayout {
    private static final long ABSOLUTE_FROM_MILLIS = (long) (RecordResolver.ABSOLUTE_FROM_SECONDS * 1000);

    private PackLayout() {}

    /** What one record has beside its value. */
    interface Records {
        void begin(Reading reading, boolean newBase, long offsetMillis);
    }

    /** @throws IllegalArgumentException if a pack cannot hold the readings */
    static void lay(List<Reading> readings, Records records) {
        if (readings.isEmpty() || readings.size() > SenmlPack.MAX_RECORDS) {
            throw new IllegalArgumentException(
                    "a pack has 1 to " + SenmlPack.MAX_RECORDS + " readings, not " + readings.size());
        }
        String machine = "";
        long baseMillis = 0;
        for (Reading reading : readings) {
            if (reading.timeMillis() < ABSOLUTE_FROM_MILLIS) {
                throw new IllegalArgumentException("time " + reading.timeMillis() + " ms of "
                        + reading.channel().code() + " would be read as relative: it is before 1978-07-04");
            }
            boolean newBase = !reading.machine().equals(machine);
            if (newBase) {
                machine = reading.machine();
                baseMillis = reading.timeMillis();
            }
            records.begin(reading, newBase, reading.timeMillis() - baseMillis);
        }
    }
}
