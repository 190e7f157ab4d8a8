package dev.rimecast.app.bench;

import dev.rimecast.dashboard.bench.Progress;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.BooleanSupplier;
import java.util.function.LongSupplier;

/** How far a pass over the history is, and whether it should go on. */
final class Pace implements dev.rimecast.history.backtest.Progress {
    private static final long TELLS_NANOS = 3_000_000_000L;

    /** Somebody does not want it any more. */
    static final class Stopped extends RuntimeException {
        private static final long serialVersionUID = 1;

        Stopped() {
            super("was stopped");
        }
    }

    private final LongSupplier nanos;
    private final BooleanSupplier isWanted;
    private final long begun;
    private long kept;
    private volatile Optional<Progress> progress = Optional.empty();

    Pace(LongSupplier nanos, BooleanSupplier isWanted) {
        this.nanos = nanos;
        this.isWanted = isWanted;
        this.begun = nanos.getAsLong();
    }

    @Override
    public void kept(long records) {
        kept += records;
    }

    @Override
    public void at(long done, long all) {
        long spent = nanos.getAsLong() - begun;
        OptionalLong left = done > kept && spent > TELLS_NANOS
                ? OptionalLong.of(Math.round((double) spent / (done - kept) * (all - done) / 1e9))
                : OptionalLong.empty();
        progress = Optional.of(new Progress(done, all, left));
        if (!isWanted.getAsBoolean()) {
            throw new Stopped();
        }
    }

    Optional<Progress> progress() {
        return progress;
    }
}
