package dev.rimecast.analytics.sensor;

import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.List;

/**
 * Whether the two temperatures of a machine are each other's. A condenser in a room that is warm enough for a machine is
 * never below {@value #COLD_CELSIUS} °C while the evaporator is at condensing temperature; the other way round it is what
 * a freeze looks like. Decided by {@value #SURE_MILLIS} ms of it since it was last the right way.
 */
final class SwappedProbes {
    private static final double COLD_CELSIUS = 5;
    private static final double HOT_CELSIUS = 24;
    private static final double APART_KELVIN = 22;
    private static final long SURE_MILLIS = 5 * 60_000L;
    private static final long GAP_MILLIS = 11 * 60_000L;
    private static final int READINGS = 3;
    private static final long NONE = Long.MIN_VALUE;

    /** What swapped probes are found by. */
    static final List<Threshold> DECIDES = List.of(new Threshold.BuiltIn("swapped_probes_kelvin", APART_KELVIN, "K"));

    private double evaporator = Double.NaN;
    private long evaporatorAt = NONE;
    private long judgedAt = NONE;
    private boolean wasWrong;
    private long wrongMillis;
    private int wrongReadings;
    private long rightMillis;
    private boolean swapped;

    void evaporator(double celsius, long millis) {
        evaporator = celsius;
        evaporatorAt = millis;
    }

    void condenser(double celsius, long millis) {
        if (evaporatorAt == NONE || millis - evaporatorAt > GAP_MILLIS) {
            return;
        }
        long passed = judgedAt == NONE || millis - judgedAt > GAP_MILLIS ? 0 : millis - judgedAt;
        judgedAt = millis;
        boolean isWrong = celsius <= COLD_CELSIUS && evaporator >= HOT_CELSIUS && evaporator - celsius >= APART_KELVIN;
        boolean isRight = evaporator <= COLD_CELSIUS && celsius >= HOT_CELSIUS && celsius - evaporator >= APART_KELVIN;
        if (isWrong) {
            rightMillis = 0;
            wrongReadings++;
            wrongMillis += wasWrong ? passed : 0;
            swapped |= wrongMillis >= SURE_MILLIS && wrongReadings >= READINGS;
        } else if (isRight) {
            wrongMillis = 0;
            wrongReadings = 0;
            rightMillis += wasWrong ? 0 : passed;
            swapped &= rightMillis < SURE_MILLIS;
        }
        wasWrong = isWrong;
    }

    boolean isSwapped() {
        return swapped;
    }

    void save(StateWriter out) {
        out.measured(evaporator).time(evaporatorAt).time(judgedAt).flag(wasWrong);
        out.whole(wrongMillis).whole(wrongReadings).whole(rightMillis).flag(swapped);
    }

    static SwappedProbes restore(StateReader in) {
        SwappedProbes probes = new SwappedProbes();
        probes.evaporator = in.measured();
        probes.evaporatorAt = in.time();
        probes.judgedAt = in.time();
        probes.wasWrong = in.flag();
        probes.wrongMillis = in.whole();
        probes.wrongReadings = in.wholeInt();
        probes.rightMillis = in.whole();
        probes.swapped = in.flag();
        return probes;
    }
}
