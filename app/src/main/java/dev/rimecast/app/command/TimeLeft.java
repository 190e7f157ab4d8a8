package dev.rimecast.app.command;

import dev.rimecast.history.backtest.Progress;
import java.io.PrintWriter;
import java.util.function.LongSupplier;

/** Says every few seconds how far it is and how long it will take. */
final class TimeLeft implements Progress {
    private static final long EVERY_NANOS = 3_000_000_000L;

    private final PrintWriter out;
    private final LongSupplier nanos;
    private final long start;
    private long told;
    private long kept;

    TimeLeft(PrintWriter out) {
        this(out, System::nanoTime);
    }

    TimeLeft(PrintWriter out, LongSupplier nanos) {
        this.out = out;
        this.nanos = nanos;
        this.start = nanos.getAsLong();
        this.told = start;
    }

    @Override
    public void kept(long records) {
        kept += records;
    }

    @Override
    public void at(long done, long all) {
        long now = nanos.getAsLong();
        if (now - told >= EVERY_NANOS && done > kept) {
            told = now;
            double seconds = (now - start) / 1e9;
            out.printf("  %.0f %%, %.0f s left%n", 100.0 * done / all, seconds * (all - done) / (done - kept));
            out.flush();
        }
    }
}
