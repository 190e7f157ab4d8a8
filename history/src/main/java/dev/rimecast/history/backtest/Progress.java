package dev.rimecast.history.backtest;

/** Told how far work on the past is; from several threads, one after the other. */
public interface Progress {
    /** @param done of {@code all}: records of the log, or steps where it reads none */
    void at(long done, long all);

    /**
     * Told how much of what is done an earlier run has done, before it counts as done: it says nothing of how fast this one is.
     *
     * @param records more of them
     */
    default void kept(long records) {}
}
