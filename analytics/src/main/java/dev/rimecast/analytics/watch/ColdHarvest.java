package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.List;

/**
 * Harvests in which the plate stays below freezing for minutes: no hot gas has come. Ice melts at 0 °C, so a plate that is
 * being harvested gets there within a minute or two; a sensor that sits off its place shows less, so that what it showed before counts, too.
 * Sure with {@value #IN_A_ROW} in a row, over after {@value #GOOD} others.
 */
final class ColdHarvest {
    private static final double WARM_CELSIUS = -2;
    private static final double LONG_SECONDS = 240;
    private static final int IN_A_ROW = 2;
    private static final int GOOD = 3;
    /** A harvest without hot gas is colder by more than this than the others were. */
    private static final double COLDER_KELVIN = 4;

    private static final int KNOWN = 20;
    private static final double USUAL_GAIN = 0.02;
    private static final int WITH_USUAL = 13;

    /** What a cold harvest is found by. */
    static final List<Threshold> DECIDES = List.of(
            new Threshold.BuiltIn("cold_harvest_celsius", WARM_CELSIUS, "Cel"),
            new Threshold.BuiltIn("cold_harvest_seconds", LONG_SECONDS, "s"));

    private int row;
    private int good;
    private float usual;
    private int known;

    void cycle(RawCycle raw) {
        if (raw.harvestSeconds().isEmpty() || raw.harvestWarmestCelsius().isEmpty()) {
            return;
        }
        double warmest = raw.harvestWarmestCelsius().getAsDouble();
        boolean isLong = raw.harvestSeconds().getAsDouble() >= LONG_SECONDS;
        boolean isCold = isLong && warmest <= WARM_CELSIUS && (known < KNOWN || warmest <= usual - COLDER_KELVIN);
        if (isLong && !isCold) {
            usual += (float) ((warmest - usual) * StrictMath.max(USUAL_GAIN, 1.0 / (known + 1)));
            known = Math.min(KNOWN, known + 1);
        }
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
        out.whole(row).whole(good).u8(known);
        if (known > 0) {
            out.real32(usual);
        }
    }

    static ColdHarvest restore(StateReader in) {
        ColdHarvest harvest = new ColdHarvest();
        harvest.row = in.wholeInt();
        harvest.good = in.wholeInt();
        if (in.hasLayout(WITH_USUAL)) {
            harvest.known = in.u8();
            harvest.usual = harvest.known > 0 ? in.real32() : 0;
        }
        return harvest;
    }
}
