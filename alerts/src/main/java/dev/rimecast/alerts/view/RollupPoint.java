package dev.rimecast.alerts.view;

import java.time.Instant;
import java.util.OptionalDouble;

/** Temperatures of one machine over one bucket of time, °C. Absent where the machine sent none. */
public record RollupPoint(
        Instant start,
        OptionalDouble evaporatorMin,
        OptionalDouble evaporatorMean,
        OptionalDouble evaporatorMax,
        OptionalDouble condenserMin,
        OptionalDouble condenserMean,
        OptionalDouble condenserMax,
        OptionalDouble ambientMean,
        OptionalDouble waterMean) {}
