package dev.rimecast.simulator.place;

/** What goes on around the machines. Numbers are invented to be plausible, from no survey. */
public enum SiteKind {
    /** Busy at night, warm when full. */
    BAR(
            22,
            0.25,
            4,
            21,
            new double[] {.5, .1, 0, 0, 0, 0, 0, 0, 0, .2, .4, .6, .8, .7, .6, .6, .8, 1, 1.4, 1.8, 2, 2, 1.7, 1},
            1.35),
    /** Even demand, air-conditioned. */
    WARD(
            22,
            0.10,
            1.5,
            14,
            new double[] {.3, .2, .2, .2, .2, .3, .7, 1, 1, 1, 1.2, 1.3, 1.3, 1, 1, 1, 1, 1.2, 1.2, 1, .8, .6, .5, .4},
            1),
    /** One peak, closed at weekends. */
    CANTEEN(
            21,
            0.30,
            5,
            12,
            new double[] {0, 0, 0, 0, 0, 0, .2, .4, .6, .8, 1.2, 2, 2.4, 2, 1, .6, .4, .2, 0, 0, 0, 0, 0, 0},
            0.05),
    /** Hot and greasy. */
    KITCHEN(
            24,
            0.30,
            7,
            20,
            new double[] {.1, 0, 0, 0, 0, 0, 0, .2, .4, .6, .8, 1.2, 1.5, 1.2, .8, .8, 1, 1.5, 2, 2, 1.6, 1, .6, .3},
            1.2),
    /** No people, waste heat from other plant. */
    PLANT_ROOM(
            24,
            0.35,
            2,
            15,
            new double[] {.4, .3, .2, .2, .2, .3, .6, .8, 1, 1, 1, 1.2, 1.2, 1, 1, 1, 1.2, 1.4, 1.4, 1.2, 1, .8, .6, .5
            },
            1.1);

    private final double baseCelsius;
    private final double coupling;
    private final double gainKelvin;
    private final int peakHour;

    @SuppressWarnings("ImmutableEnumChecker") // never written, never handed out
    private final double[] use;

    private final double weekend;

    SiteKind(double baseCelsius, double coupling, double gainKelvin, int peakHour, double[] use, double weekend) {
        this.baseCelsius = baseCelsius;
        this.coupling = coupling;
        this.gainKelvin = gainKelvin;
        this.peakHour = peakHour;
        this.use = use;
        this.weekend = weekend;
    }

    /** Where the room settles at 15 °C out of doors, outside working hours, °C. */
    double baseCelsius() {
        return baseCelsius;
    }

    /** K in the room for each K out of doors. */
    double coupling() {
        return coupling;
    }

    /** Gains of people and plant at the busiest hour, K. */
    double gainKelvin(int hour, boolean weekendDay) {
        int apart = Math.min(Math.floorMod(hour - peakHour, 24), Math.floorMod(peakHour - hour, 24));
        double share = Math.max(0, 1 - apart / 7.0);
        return gainKelvin * share * (weekendDay ? Math.min(1, weekend) : 1);
    }

    /** Demand of this hour against the mean of a weekday. */
    double use(int hour, boolean weekendDay) {
        double sum = 0;
        for (double value : use) {
            sum += value;
        }
        return use[hour] * 24 / sum * (weekendDay ? weekend : 1);
    }
}
