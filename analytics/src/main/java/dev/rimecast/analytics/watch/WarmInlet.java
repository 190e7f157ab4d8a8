package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.List;

/**
 * Air that a machine takes in warmer than its neighbours in the same room do, by more than it always was: its own warm air
 * comes back to it. A sensor at the inlet reads that air, so the split against it shows nothing. Told once an hour in which the machine
 * runs: one that sits in the warm air is as the room while it rests, and more or less warm by how much ice is wanted.
 *
 * <table>
 * <caption>Edges</caption>
 * <tr><td>the first {@value #LEARNED_HOURS} hours</td><td>nothing is judged</td></tr>
 * <tr><td>a hot day</td><td>the neighbours are as hot</td></tr>
 * <tr><td>a neighbour's sensor that falls</td><td>the machine's own air is not warmer than before: nothing</td></tr>
 * <tr><td>a neighbour in its own warm air that stops for a while</td><td>this machine's air is no warmer than the neighbour's: nothing</td></tr>
 * </table>
 */
final class WarmInlet {
    private static final int LEARNED_HOURS = 48;
    private static final int USUAL_HOURS = 8 * 24;
    private static final double NOW_GAIN = 0.5;
    private static final double WARM_KELVIN = 4;
    private static final double OVER_KELVIN = 2;

    /** Before this layout it was learned in all hours, which says nothing of those in which the machine runs. */
    private static final int OF_RUNNING_HOURS = 13;

    /** A split that is smaller by more is that of a condenser to which no warm air comes. */
    private static final double SENSOR_ALONE_KELVIN = 2.5;

    /** What warm air of its own is found by. */
    static final Threshold DECIDES = new Threshold.BuiltIn("warm_inlet_kelvin", WARM_KELVIN, "K");
    /** Sensors differ by so much; what they were always apart is learned. */
    private static final double WARMER_NOW_KELVIN = 1;

    /** A room may be so much colder at night than it is in the mean. */
    private static final double COLD_NIGHT_KELVIN = 5;

    private float usual;
    private float usualOwn;
    private float now;
    private float nowOwn;
    private int hours;
    private boolean isWarm;

    /**
     * @param ownCelsius air at the machine
     * @param othersCelsius the median at its neighbours, at about the same time
     */
    void hour(double ownCelsius, double othersCelsius) {
        double difference = ownCelsius - othersCelsius;
        if (hours == 0) {
            now = (float) difference;
            nowOwn = (float) ownCelsius;
        }
        now += (float) (NOW_GAIN * (difference - now));
        nowOwn += (float) (NOW_GAIN * (ownCelsius - nowOwn));
        if (hours >= LEARNED_HOURS) {
            isWarm = isWarm ? kelvin() >= OVER_KELVIN : kelvin() >= WARM_KELVIN && isOwn();
        }
        if (!isWarm) {
            double gain = 1.0 / (hours + 1);
            usual += (float) (gain * (difference - usual));
            usualOwn += (float) (gain * (ownCelsius - usualOwn));
        }
        hours = Math.min(USUAL_HOURS, hours + 1);
    }

    /** Whether it is this machine's air that has changed, rather than what the neighbours' sensors say. */
    private boolean isOwn() {
        double own = nowOwn - usualOwn;
        double others = own - kelvin();
        return now >= WARMER_NOW_KELVIN && own >= WARM_KELVIN / 2 && others >= -COLD_NIGHT_KELVIN;
    }

    boolean isWarm() {
        return isWarm;
    }

    /** Whether a cycle shows that only the sensor is warm: it stands in the sun. */
    static boolean isSensorAlone(List<Residual> residuals) {
        return residuals.stream()
                .anyMatch(residual -> residual.feature() == Feature.SPLIT
                        && residual.expected() - residual.measured() > SENSOR_ALONE_KELVIN);
    }

    /** By how much the air is warmer against the neighbours than it always was, K. */
    double kelvin() {
        return now - usual;
    }

    void save(StateWriter out) {
        out.whole(hours).flag(isWarm);
        if (hours > 0) {
            out.real32(usual).real32(usualOwn).real32(now).real32(nowOwn);
        }
    }

    static WarmInlet restore(StateReader in) {
        boolean isOfRunningHours = in.hasLayout(OF_RUNNING_HOURS);
        WarmInlet inlet = new WarmInlet();
        inlet.hours = in.wholeInt();
        inlet.isWarm = in.flag();
        if (inlet.hours > 0) {
            inlet.usual = in.real32();
            inlet.usualOwn = in.real32();
            inlet.now = in.real32();
            inlet.nowOwn = in.real32();
        }
        if (!isOfRunningHours) {
            return new WarmInlet();
        }
        return inlet;
    }
}
