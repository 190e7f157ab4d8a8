package dev.rimecast.analytics.cycle;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;

/**
 * What the inlet's probe showed of the water that a cycle was made with. While none runs, the probe goes towards the room with
 * its pipe, so it is the reading that was furthest from the room as it was then; the coldest one where the room is not known with all of them.
 * Most machines fill in the harvest before, or right after it, so this begins where the last cycle ended.
 */
final class WaterTrace {
    /** From this layout of a machine's state on the room counts as it was with each reading. */
    static final int WITH_ROOM = 16;

    private boolean isRead;
    private boolean hasRoom = true;
    private float coldest;
    private float furthest;
    private float distance;

    /** @param room the air of the room now; {@code NaN} where it is not known */
    void read(double reading, double room) {
        float celsius = (float) reading;
        coldest = isRead ? Math.min(coldest, celsius) : celsius;
        if (Double.isNaN(room)) {
            hasRoom = false;
        } else if (!isRead || Math.abs(celsius - (float) room) > distance) {
            furthest = celsius;
            distance = Math.abs(celsius - (float) room);
        }
        isRead = true;
    }

    /** The water that the machine drew. */
    OptionalDouble drawn() {
        return isRead ? OptionalDouble.of(hasRoom ? furthest : coldest) : OptionalDouble.empty();
    }

    void save(StateWriter out) {
        out.flag(isRead).real32(coldest).real32(furthest).flag(hasRoom).real32(distance);
    }

    /** Layouts before have the coldest reading and the warmest. */
    static WaterTrace restore(StateReader in) {
        WaterTrace trace = new WaterTrace();
        trace.isRead = in.flag();
        trace.coldest = in.real32();
        trace.furthest = in.real32();
        trace.hasRoom = false;
        if (in.hasLayout(WITH_ROOM)) {
            trace.hasRoom = in.flag();
            trace.distance = in.real32();
        }
        return trace;
    }
}
