package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.watch.JudgedCycle;
import dev.rimecast.telemetry.cycle.Acceptance;
import dev.rimecast.telemetry.cycle.Cycle;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;

/** A cycle as it goes out. */
final class CycleRecord {
    private CycleRecord() {}

    static Cycle of(String machine, JudgedCycle judged, String policyVersion, Optional<Acceptance> acceptance) {
        RawCycle raw = judged.raw();
        Conditions place = judged.place();
        OptionalDouble ambient =
                place.hasAmbient() ? OptionalDouble.of(place.ambientCelsius()) : OptionalDouble.empty();
        return new Cycle(
                machine,
                Instant.ofEpochMilli(raw.freezeStartMillis()),
                Instant.ofEpochMilli(raw.endMillis()),
                raw.pullDownSeconds(),
                raw.freezeSeconds(),
                raw.harvestSeconds(),
                raw.condensingPeakCelsius(),
                raw.condensingMeanCelsius(),
                judged.splitKelvin(),
                raw.evaporatorEndCelsius(),
                ambient,
                place.ambientSource(),
                place.hasWater() ? OptionalDouble.of(place.waterCelsius()) : OptionalDouble.empty(),
                place.waterSource(),
                raw.drainRuns(),
                raw.drainLevelMaxSeconds(),
                raw.drainRunMaxSeconds(),
                raw.complete(),
                judged.residuals(),
                FindingBook.DETECTOR_VERSION,
                policyVersion,
                acceptance);
    }
}
