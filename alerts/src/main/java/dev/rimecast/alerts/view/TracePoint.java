package dev.rimecast.alerts.view;

import java.time.Instant;
import java.util.OptionalDouble;

/**
 * Evaporator and condenser of one machine, °C: the first value of each 20 s. Absent where the machine sent none.
 *
 * @param at beginning of the 20 s; the value is of some time within them
 */
public record TracePoint(Instant at, OptionalDouble evaporator, OptionalDouble condenser) {}
