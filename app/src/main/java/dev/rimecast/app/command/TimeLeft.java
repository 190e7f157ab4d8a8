package dev.rimecast.app.command;

import dev.rimecast.history.backtest.Progress;
import java.io.PrintWriter;

/** Says every few seconds how far it is and how long it will take. */
final class TimeLeft implements Progress {
    private static final long EVERY_NANOS = 3_000_000_000L;

    private final PrintWriter out;
    private final long start = System.nanoTime();
    private long told = start;

    TimeLeft(PrintWriter out) {
        this.out = out;
    }

    @Override
    public void at(long done, long all) {
        long now = System.nanoTime();
        if (now - told >= EVERY_NANOS && done > 0) {
            told = now;
            double seconds = (now - start) / 1e9;
            out.printf("  %.0f %%, %.0f s left%n", 100.0 * done / all, seconds * (all - done) / done);
            out.flush();
        }
    }
}
