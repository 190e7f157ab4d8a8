package dev.rimecast.analytics.cycle;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;

/** The totals that a machine counts: water taken in, and ice made. */
final class Meters {
    private static final double LITRES = 1000;

    private MeterTrace water = new MeterTrace();
    private MeterTrace ice = new MeterTrace();

    /** @param cubicMetres since the meter was new */
    void water(double cubicMetres) {
        water.read(cubicMetres);
    }

    /** @param kilograms since the counter was new */
    void ice(double kilograms) {
        ice.read(kilograms);
    }

    OptionalDouble litres(boolean isCounted) {
        OptionalDouble cubicMetres = water.cycleEnded(isCounted);
        return cubicMetres.isPresent() ? OptionalDouble.of(cubicMetres.getAsDouble() * LITRES) : cubicMetres;
    }

    OptionalDouble kilograms(boolean isCounted) {
        return ice.cycleEnded(isCounted);
    }

    void save(StateWriter out) {
        water.save(out);
        ice.save(out);
    }

    static Meters restore(StateReader in) {
        Meters meters = new Meters();
        meters.water = MeterTrace.restore(in);
        meters.ice = MeterTrace.restore(in);
        return meters;
    }
}
