package dev.rimecast.history.backtest;

/** Told how far a back-test is; from several threads, one after the other. */
public interface Progress {
    /** @param done records of {@code all} */
    void at(long done, long all);
}
