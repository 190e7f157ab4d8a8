package dev.rimecast.history.fleet;

import dev.rimecast.history.backtest.Progress;

/** Counts the steps of a look, each some question to the database. */
final class Steps {
    private final Progress progress;
    private final int all;
    private int done;

    Steps(Progress progress, int all) {
        this.progress = progress;
        this.all = all;
        progress.at(0, all);
    }

    void done() {
        progress.at(++done, all);
    }
}
