package dev.rimecast.analytics.fourthfleet;

/** Supply pipe, sump, and what runs to waste. */
final class Water {
    private static final double TIMED_FILL_SUMPS = 1.15;
    private static final double FULL_SHARE = 0.995;
    private static final double LEVEL_TIMEOUT_SECONDS = 420;
    private static final double FIRST_FILL_TIMEOUT_SECONDS = 900;

    private final Traits traits;
    private final Ailment ailment;
    private final CycleScatter cycle;
    double sumpKg;
    double sumpCelsius;
    double pipeCelsius;
    double wasteKg;
    double takenKg;
    private boolean filling;
    private long fillSince;

    /** How a fill stands. */
    enum Fill {
        NONE,
        GOING,
        DONE,
        TIMED_OUT
    }

    Water(Traits traits, Ailment ailment, CycleScatter cycle, double mainsCelsius) {
        this.traits = traits;
        this.ailment = ailment;
        this.cycle = cycle;
        sumpCelsius = mainsCelsius + 1.5;
        pipeCelsius = sumpCelsius;
    }

    double fullKg() {
        return traits.sumpKg * cycle.mass;
    }

    boolean isFilling() {
        return filling;
    }

    void stopFilling() {
        filling = false;
    }

    /** Opens the inlet, and first lets go of what is above the retained share. */
    void dumpAndFill(long t) {
        double kept = traits.retainedShare * fullKg();
        if (sumpKg > kept) {
            wasteKg += sumpKg - kept;
            sumpKg = kept;
        }
        fill(t);
    }

    void fill(long t) {
        filling = true;
        fillSince = t;
    }

    void loseAbove(double share) {
        sumpKg = Math.min(sumpKg, share * traits.sumpKg);
    }

    long fillSeconds(long t) {
        return t - fillSince;
    }

    /** What flows in and out in one second; the pipe stands warm between fills. */
    void second(Surroundings around, boolean circulating) {
        double inflow = filling ? traits.supplyKgPerSecond * (1 - ailment.of(FaultKind.WATER_SUPPLY_LOW)) : 0;
        inflow += ailment.of(FaultKind.INLET_VALVE_LEAKING) * traits.size / 60;
        double mains = around.mainsCelsius;
        if (inflow > 0) {
            takenKg += inflow;
            pipeCelsius += (mains + .8 - pipeCelsius) * Math.min(1, inflow / 1.1);
            mix(inflow);
        }
        pipeCelsius += (around.roomCelsius - .35 * (around.roomCelsius - mains) - pipeCelsius) / 3600;
        double lost = Math.min(sumpKg, lossKgPerSecond(circulating));
        sumpKg -= lost;
        wasteKg += lost;
    }

    private void mix(double inflow) {
        double mixed = sumpKg + inflow;
        sumpCelsius = (sumpCelsius * sumpKg + pipeCelsius * inflow) / Math.max(mixed, 1e-6);
        double full = fullKg();
        wasteKg += Math.max(0, mixed - full);
        sumpKg = Math.min(mixed, full);
    }

    private double lossKgPerSecond(boolean circulating) {
        double always = ailment.of(FaultKind.DUMP_VALVE_LEAKING) + ailment.of(FaultKind.SUMP_PLUG_OFF);
        double whenSprayed = ailment.of(FaultKind.CURTAIN_MISPLACED) + ailment.of(FaultKind.SPRAY_UNIT_MISPLACED);
        return (always + (circulating ? whenSprayed : 0)) * traits.size / 60;
    }

    /** Ends a fill that is due; a fill by level that takes too long has failed. */
    Fill check(long t, boolean firstFill) {
        if (!filling) {
            return Fill.NONE;
        }
        double seconds = fillSeconds(t);
        if (traits.group.fillsByTime()) {
            filling = seconds < traits.sumpKg * TIMED_FILL_SUMPS / traits.supplyKgPerSecond;
            return filling ? Fill.GOING : Fill.DONE;
        }
        if (sumpKg >= fullKg() * FULL_SHARE) {
            filling = false;
            return Fill.DONE;
        }
        filling = seconds <= (firstFill ? FIRST_FILL_TIMEOUT_SECONDS : LEVEL_TIMEOUT_SECONDS);
        return filling ? Fill.GOING : Fill.TIMED_OUT;
    }
}
