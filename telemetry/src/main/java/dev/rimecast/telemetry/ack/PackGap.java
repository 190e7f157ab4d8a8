package dev.rimecast.telemetry.ack;

/**
 * Packs of a gateway that are given up: they did not come in time, so what came after them is acknowledged without
 * them.
 *
 * @param from number of the first that is missing
 * @param to number of the last that is missing
 * @param missing how many between the two, both included, have not come
 */
public record PackGap(String gateway, String boot, long from, long to, long missing) {
    public PackGap {
        if (from > to || missing < 1 || missing > to - from + 1) {
            throw new IllegalArgumentException("a gap from " + from + " to " + to + " can't miss " + missing);
        }
    }
}
