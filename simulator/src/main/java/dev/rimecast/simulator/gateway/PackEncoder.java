package dev.rimecast.simulator.gateway;

import dev.rimecast.telemetry.reading.Reading;
import java.util.List;

/** Readings to the payload of one message. */
@FunctionalInterface
public interface PackEncoder {
    byte[] encode(List<Reading> readings);
}
