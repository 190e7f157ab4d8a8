package dev.rimecast.analytics.cycle;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;

/**
 * What the inlet's probe showed of the water that a cycle was made with. While none runs, the probe goes towards the room with
 * its pipe, so it is the reading that was furthest from the room as it was then; the coldest one where the room is not known.
 * Most machines fill in the harvest before, or right after it, so this begins where the last cycle ended.
 */
final class WaterTrace {
    /** From this layout of a machine's state on the room counts as it was with each reading. */
    static final int WITH_ROOM = 16;

    private boolean isRead;
    private float celsius;
    private float fromRoom;

    /** @param room the air of the room now; {@code NaN} where it is not known */
    void read(double reading, double room) {
        float distance = (float) (Double.isNaN(room) ? -reading : StrictMath.abs(reading - room));
        if (!isRead || distance > fromRoom) {
            celsius = (float) reading;
            fromRoom = distance;
            isRead = true;
        }
    }

    /** The water that the machine drew. */
    OptionalDouble drawn() {
        return isRead ? OptionalDouble.of(celsius) : OptionalDouble.empty();
    }

    void save(StateWriter out) {
        out.flag(isRead).real32(celsius).real32(fromRoom);
    }

    static WaterTrace restore(StateReader in) {
        WaterTrace trace = new WaterTrace();
        trace.isRead = in.flag();
        trace.celsius = in.real32();
        float second = in.real32();
        trace.fromRoom = in.hasLayout(WITH_ROOM) ? second : 0;
        return trace;
    }
}
