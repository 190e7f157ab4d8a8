package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.List;

/**
 * Harvests in which the plate stays below freezing for minutes: no hot gas has come. Ice melts at 0 °C, so a plate that is
 * being harvested gets there within a minute or two. Sure with {@value #IN_A_ROW} in a row, over after {@value #GOOD} others.
 */
final class ColdHarvest {
    private static final double WARM_CELSIUS = -2;
    private static final double LONG_SECONDS = 240;
    private static final int IN_A_ROW = 2;
    private static final int GOOD = 3;

    /** What a cold harvest is found by. */
    static final List<Threshold> DECIDES = List.of(
            new Threshold.BuiltIn("cold_harvest_celsius", WARM_CELSIUS, "Cel"),
            new Threshold.BuiltIn("cold_harvest_seconds", LONG_SECONDS, "s"));

    private int row;
    private int good;

    void cycle(RawCycle raw) {
        if (raw.harvestSeconds().isEmpty() || raw.harvestWarmestCelsius().isEmpty()) {
            return;
        }
        boolean isCold = raw.harvestSeconds().getAsDouble() >= LONG_SECONDS
                && raw.harvestWarmestCelsius().getAsDouble() <= WARM_CELSIUS;
        if (isCold) {
            row++;
            good = 0;
        } else if (row > 0) {
            good++;
            if (good >= GOOD) {
                row = 0;
            }
        }
    }

    /** Whether the last harvest, or one of the last few, was so. */
    boolean isSuspected() {
        return row > 0;
    }

    boolean isSure() {
        return row >= IN_A_ROW;
    }

    void save(StateWriter out) {
        out.whole(row).whole(good);
    }

    static ColdHarvest restore(StateReader in) {
        ColdHarvest harvest = new ColdHarvest();
        harvest.row = in.wholeInt();
        harvest.good = in.wholeInt();
        return harvest;
    }
}
