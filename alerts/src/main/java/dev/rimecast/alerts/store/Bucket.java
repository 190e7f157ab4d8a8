package dev.rimecast.alerts.store;

import java.nio.ByteBuffer;
import java.util.Arrays;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;

/**
 * Temperatures of one machine over five minutes. Every second of every channel counts once, so that a reading that
 * comes again changes nothing; of several readings within one second the first stands.
 *
 * <p>Seconds seen are stored per channel as a count byte and two bytes each while they are few, else as the byte 255
 * and a bit for each of the 300 seconds.
 */
final class Bucket {
    static final long MILLIS = 300_000;
    static final int EVAPORATOR = 0;
    static final int CONDENSER = 1;
    static final int AMBIENT = 2;
    static final int WATER = 3;
    static final int CHANNELS = 4;

    /** Evaporator and condenser are kept at this step, so that one cycle can be drawn. */
    static final int TRACE_SECONDS = 20;

    static final int TRACE_STEPS = 300 / TRACE_SECONDS;
    private static final int TRACED = 2;
    private static final short NO_VALUE = Short.MIN_VALUE;
    private static final double HUNDREDTHS = 100;

    private static final int SECONDS = 300;
    private static final int MASK_BYTES = 38;
    private static final int FEW = 18;
    private static final int AS_MASK = 255;

    final String machine;
    final long startMillis;
    final int[] count = new int[CHANNELS];
    final double[] sum = new double[CHANNELS];
    final double[] min = {
        Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY
    };
    final double[] max = {
        Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY
    };
    private final byte[] seen = new byte[CHANNELS * MASK_BYTES];
    private final short[] trace = new short[TRACED * TRACE_STEPS];

    Bucket(String machine, long startMillis) {
        this.machine = machine;
        this.startMillis = startMillis;
        Arrays.fill(trace, NO_VALUE);
    }

    static long startOf(long timeMillis) {
        return Math.floorDiv(timeMillis, MILLIS) * MILLIS;
    }

    /** Takes a value in; returns false if that second of the channel has counted already. */
    boolean add(int channel, long timeMillis, double value) {
        int second = (int) ((timeMillis - startMillis) / 1000);
        int index = channel * MASK_BYTES + (second >> 3);
        int bit = 1 << (second & 7);
        if ((seen[index] & bit) != 0) {
            return false;
        }
        seen[index] |= (byte) bit;
        count[channel]++;
        sum[channel] += value;
        min[channel] = Math.min(min[channel], value);
        max[channel] = Math.max(max[channel], value);
        int step = channel * TRACE_STEPS + second / TRACE_SECONDS;
        if (channel < TRACED && trace[step] == NO_VALUE) {
            trace[step] = hundredths(value);
        }
        return true;
    }

    /** What 16 bits can't hold, 327 °C and beyond, is no temperature that a curve could show. */
    private static short hundredths(double value) {
        return (short) Math.max(-Short.MAX_VALUE, Math.min(Short.MAX_VALUE, Math.round(value * HUNDREDTHS)));
    }

    /** For the column; absent where there is nothing to draw. */
    byte @Nullable [] trace() {
        if (count[EVAPORATOR] + count[CONDENSER] == 0) {
            return null;
        }
        ByteBuffer out = ByteBuffer.allocate(trace.length * Short.BYTES);
        out.asShortBuffer().put(trace);
        return out.array();
    }

    void restoreTrace(byte @Nullable [] bytes) {
        if (bytes != null) {
            ByteBuffer.wrap(bytes).asShortBuffer().get(trace);
        }
    }

    /** The value of a step of a stored trace, °C. */
    static OptionalDouble traced(byte[] bytes, int channel, int step) {
        short value = ByteBuffer.wrap(bytes).getShort((channel * TRACE_STEPS + step) * Short.BYTES);
        return value == NO_VALUE ? OptionalDouble.empty() : OptionalDouble.of(value / HUNDREDTHS);
    }

    byte[] seen() {
        ByteBuffer out = ByteBuffer.allocate(CHANNELS * (1 + MASK_BYTES));
        for (int channel = 0; channel < CHANNELS; channel++) {
            if (count[channel] > FEW) {
                out.put((byte) AS_MASK).put(seen, channel * MASK_BYTES, MASK_BYTES);
                continue;
            }
            out.put((byte) count[channel]);
            for (int second = 0; second < SECONDS; second++) {
                if ((seen[channel * MASK_BYTES + (second >> 3)] & 1 << (second & 7)) != 0) {
                    out.putShort((short) second);
                }
            }
        }
        byte[] bytes = new byte[out.position()];
        out.flip().get(bytes);
        return bytes;
    }

    void restoreSeen(byte[] bytes) {
        ByteBuffer in = ByteBuffer.wrap(bytes);
        for (int channel = 0; channel < CHANNELS; channel++) {
            int head = in.get() & 0xff;
            if (head == AS_MASK) {
                in.get(seen, channel * MASK_BYTES, MASK_BYTES);
                continue;
            }
            for (int i = 0; i < head; i++) {
                int second = in.getShort();
                seen[channel * MASK_BYTES + (second >> 3)] |= (byte) (1 << (second & 7));
            }
        }
    }
}
