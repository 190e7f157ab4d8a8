package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * Ice that stayed on the plate, by the next cycle: a plate that carries ice comes to 0 °C almost at once. Said after
 * {@value #IN_A_ROW} cycles in a row, over after as many good ones.
 */
final class LeftIce {
    private static final int IN_A_ROW = 2;
    private static final int GOOD = 3;

    private int row;
    private int good;

    void cycle(double pullDownSeconds, double expectedSeconds, double share) {
        if (pullDownSeconds < share * expectedSeconds) {
            row++;
            good = 0;
        } else {
            good++;
            if (good >= GOOD) {
                row = 0;
            }
        }
    }

    boolean isSeen() {
        return row >= IN_A_ROW;
    }

    void save(StateWriter out) {
        out.whole(row).whole(good);
    }

    static LeftIce restore(StateReader in) {
        LeftIce ice = new LeftIce();
        ice.row = in.wholeInt();
        ice.good = in.wholeInt();
        return ice;
    }
}
