package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.machine.Channel;

/**
 * Puts one machine's readings in order of (time, channel) before cycles are judged, and knows repeats.
 *
 * <p>A reading is held until the machine's newest reading is more than {@value #WIDTH_MILLIS} ms younger, then handed
 * on. What is older than that on arrival is late. A machine that sends more than {@value #CAPACITY} readings within the
 * window gets a shorter one: the oldest is handed on early, and only what is older than it is late.
 *
 * <p>Cost: O(1) for readings in order, O(n) for one that is not. No allocation.
 */
final class ReorderWindow {
    static final long WIDTH_MILLIS = 60_000;
    static final int CAPACITY = 80;

    /** Takes readings in order. */
    interface Sink {
        void ordered(Channel channel, long timeMillis, double value);
    }

    private final long[] times = new long[CAPACITY];
    private final byte[] channels = new byte[CAPACITY];
    private final double[] values = new double[CAPACITY];
    private int first;
    private int size;
    private long newest = Long.MIN_VALUE;
    /** Readings before this time are late. */
    private long floor = Long.MIN_VALUE;

    /** Takes one reading in and hands on those whose time has come. */
    Admission offer(Channel channel, long timeMillis, double value, Sink sink) {
        if (timeMillis < floor) {
            return Admission.LATE;
        }
        int index = size;
        int key = channel.ordinal();
        while (index > 0 && isAfter(index - 1, timeMillis, key)) {
            index--;
        }
        if (index > 0 && times[at(index - 1)] == timeMillis && channels[at(index - 1)] == key) {
            return values[at(index - 1)] == value ? Admission.REPEATED : Admission.CONFLICTING;
        }
        if (size == CAPACITY) {
            if (index == 0) {
                return Admission.LATE;
            }
            floor = Math.max(floor, times[at(0)]);
            release(sink);
            index--;
        }
        insert(index, timeMillis, key, value);
        if (timeMillis > newest) {
            newest = timeMillis;
            floor = Math.max(floor, newest - WIDTH_MILLIS);
            while (times[at(0)] < floor) {
                release(sink);
            }
        }
        return Admission.USED;
    }

    /** Readings up to here were seen elsewhere. */
    void passedTo(long millis) {
        newest = millis;
    }

    /** The machine's newest reading, or {@link Long#MIN_VALUE} before the first. */
    long newestMillis() {
        return newest;
    }

    private boolean isAfter(int index, long time, int channel) {
        int slot = at(index);
        return times[slot] > time || (times[slot] == time && channels[slot] > channel);
    }

    private void insert(int index, long time, int channel, double value) {
        for (int i = size; i > index; i--) {
            int to = at(i);
            int from = at(i - 1);
            times[to] = times[from];
            channels[to] = channels[from];
            values[to] = values[from];
        }
        int slot = at(index);
        times[slot] = time;
        channels[slot] = (byte) channel;
        values[slot] = value;
        size++;
    }

    private void release(Sink sink) {
        int slot = first;
        first = (first + 1) % CAPACITY;
        size--;
        sink.ordered(Channel.ofOrdinal(channels[slot]), times[slot], values[slot]);
    }

    private int at(int index) {
        int slot = first + index;
        return slot < CAPACITY ? slot : slot - CAPACITY;
    }

    void save(StateWriter out) {
        out.time(newest).whole(floor).whole(size);
        long before = newest;
        for (int i = size - 1; i >= 0; i--) {
            int slot = at(i);
            out.whole(before - times[slot]).u8(channels[slot]).measured(values[slot]);
            before = times[slot];
        }
    }

    static ReorderWindow restore(StateReader in) {
        ReorderWindow window = new ReorderWindow();
        window.newest = in.time();
        window.floor = in.whole();
        window.size = in.wholeInt();
        long before = window.newest;
        for (int i = window.size - 1; i >= 0; i--) {
            before -= in.whole();
            window.times[i] = before;
            window.channels[i] = (byte) in.u8();
            window.values[i] = in.measured();
        }
        return window;
    }
}
