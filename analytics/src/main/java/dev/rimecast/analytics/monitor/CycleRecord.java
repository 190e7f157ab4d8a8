package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.watch.RoomByCondenser.Room;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import java.time.Instant;
import java.util.List;
import java.util.OptionalDouble;

/** A cycle as it goes out. */
final class CycleRecord {
    private CycleRecord() {}

    static Cycle of(String machine, RawCycle raw, Room room, List<Residual> residuals, String policyVersion) {
        Conditions place = room.place();
        OptionalDouble ambient =
                place.hasAmbient() ? OptionalDouble.of(place.ambientCelsius()) : OptionalDouble.empty();
        OptionalDouble split =
                raw.condensingEndCelsius().isPresent() && room.ofSplit().isPresent()
                        ? OptionalDouble.of(raw.condensingEndCelsius().getAsDouble()
                                - room.ofSplit().get().ambientCelsius())
                        : OptionalDouble.empty();
        return new Cycle(
                machine,
                Instant.ofEpochMilli(raw.freezeStartMillis()),
                Instant.ofEpochMilli(raw.endMillis()),
                raw.pullDownSeconds(),
                raw.freezeSeconds(),
                raw.harvestSeconds(),
                raw.condensingPeakCelsius(),
                raw.condensingMeanCelsius(),
                split,
                raw.evaporatorEndCelsius(),
                ambient,
                place.ambientSource(),
                place.hasWater() ? OptionalDouble.of(place.waterCelsius()) : OptionalDouble.empty(),
                place.waterSource(),
                raw.drainRuns(),
                raw.drainLevelMaxSeconds(),
                raw.drainRunMaxSeconds(),
                raw.complete(),
                residuals,
                FindingBook.DETECTOR_VERSION,
                policyVersion);
    }
}
