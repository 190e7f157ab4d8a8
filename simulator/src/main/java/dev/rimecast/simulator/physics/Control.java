package dev.rimecast.simulator.physics;

/**
 * How a machine's own controller is set.
 *
 * @param fillByLevel whether a fill ends when the sump is full and flushed; otherwise after a set time
 * @param startDelaySeconds from power-on to the first freeze; the last five minutes of it are a water fill
 * @param condensingLimitCelsius where the condenser probe stops the machine
 * @param pullDownLimitSeconds from the freeze's start to 0 °C
 * @param drainLimitSeconds longest level signal; infinite where nothing judges it
 * @param dumpsAtHarvest whether the sump is emptied before it is filled
 */
public record Control(
        FreezeEnd freezeEnd,
        HarvestEnd harvestEnd,
        boolean fillByLevel,
        int startDelaySeconds,
        double condensingLimitCelsius,
        double pullDownLimitSeconds,
        double drainLimitSeconds,
        boolean dumpsAtHarvest) {

    /** The water fill after power-on, s (common practice: about five minutes). */
    public static final int FIRST_FILL_SECONDS = 300;

    /** Freeze by temperature and timer, harvest by temperature, with a drain pump. */
    public static final Control USUAL = new Control(
            new FreezeEnd.Temperature(-13, 420), new HarvestEnd.Temperature(9), false, 300, 65, 900, 6, false);

    public Control with(FreezeEnd freeze, HarvestEnd harvest) {
        return new Control(
                freeze,
                harvest,
                fillByLevel,
                startDelaySeconds,
                condensingLimitCelsius,
                pullDownLimitSeconds,
                drainLimitSeconds,
                dumpsAtHarvest);
    }

    public Control withStartDelay(int seconds) {
        return new Control(
                freezeEnd,
                harvestEnd,
                fillByLevel,
                seconds,
                condensingLimitCelsius,
                pullDownLimitSeconds,
                drainLimitSeconds,
                dumpsAtHarvest);
    }

    public Control withFillByLevel() {
        return new Control(
                freezeEnd,
                harvestEnd,
                true,
                startDelaySeconds,
                condensingLimitCelsius,
                pullDownLimitSeconds,
                drainLimitSeconds,
                dumpsAtHarvest);
    }

    /** With a waste line by gravity: the sump is dumped before the fill. */
    public Control withDump(double drainLimit) {
        return new Control(
                freezeEnd,
                harvestEnd,
                fillByLevel,
                startDelaySeconds,
                condensingLimitCelsius,
                pullDownLimitSeconds,
                drainLimit,
                true);
    }
}
