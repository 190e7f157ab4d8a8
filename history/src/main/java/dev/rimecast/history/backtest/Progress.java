package dev.rimecast.history.backtest;

/** Told how far work on the past is; from several threads, one after the other. */
public interface Progress {
    /** @param done of {@code all}: records of the log, or steps where it reads none */
    void at(long done, long all);
}
