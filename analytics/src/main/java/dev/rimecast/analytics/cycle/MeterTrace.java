package dev.rimecast.analytics.cycle;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;

/**
 * A total that grows, per cycle: from the end of one cycle to the end of the next, as the mean of {@value #CYCLES} cycles
 * that each followed another directly. A meter counts in steps, and a gateway reads it now and then; over some cycles that
 * evens out. Water that runs while the machine rests is in no cycle.
 */
final class MeterTrace {
    static final int CYCLES = 6;

    private double total = Double.NaN;
    private double atLastEnd = Double.NaN;
    private double sum;
    private int cycles;

    /** A total of the meter, in its own unit; one that is lower than before is that of another meter. */
    void read(double next) {
        if (next < total) {
            restart();
        }
        total = next;
    }

    private void restart() {
        atLastEnd = Double.NaN;
        sum = 0;
        cycles = 0;
    }

    /**
     * A cycle is over.
     *
     * @param isCounted whether it was complete, and followed another without a rest between
     * @return the mean per cycle, in the meter's unit, with every {@value #CYCLES}th cycle that counts
     */
    OptionalDouble cycleEnded(boolean isCounted) {
        double used = total - atLastEnd;
        atLastEnd = total;
        if (!isCounted || Double.isNaN(used)) {
            return OptionalDouble.empty();
        }
        sum += used;
        cycles++;
        if (cycles < CYCLES) {
            return OptionalDouble.empty();
        }
        double mean = sum / cycles;
        sum = 0;
        cycles = 0;
        return OptionalDouble.of(mean);
    }

    void save(StateWriter out) {
        out.flag(!Double.isNaN(total));
        if (!Double.isNaN(total)) {
            out.real(total).real(atLastEnd).real(sum).whole(cycles);
        }
    }

    static MeterTrace restore(StateReader in) {
        MeterTrace trace = new MeterTrace();
        if (in.flag()) {
            trace.total = in.real();
            trace.atLastEnd = in.real();
            trace.sum = in.real();
            trace.cycles = in.wholeInt();
        }
        return trace;
    }
}
