package dev.rimecast.analytics.sensor;

import dev.rimecast.analytics.limits.Spell;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/** What is remembered of one sensor. */
final class Probe {
    Spell bad = new Spell();
    Spell stuck = new Spell();
    double value = Double.POSITIVE_INFINITY;
    private double otherLow = Double.POSITIVE_INFINITY;
    private double otherHigh = Double.NEGATIVE_INFINITY;

    void seenByOther(double celsius) {
        otherLow = Math.min(otherLow, celsius);
        otherHigh = Math.max(otherHigh, celsius);
    }

    /** It shows another value. */
    void moved(double celsius) {
        value = celsius;
        otherLow = Double.POSITIVE_INFINITY;
        otherHigh = Double.NEGATIVE_INFINITY;
    }

    /** How far the other temperature has moved since this one did. */
    double otherMovedKelvin() {
        return otherHigh - otherLow;
    }

    /** Lowest of the other temperature since this one moved. */
    double otherLowest() {
        return otherLow;
    }

    void save(StateWriter out) {
        bad.save(out);
        stuck.save(out);
        out.measured(value).measured(otherLow).measured(otherHigh);
    }

    static Probe restore(StateReader in) {
        Probe probe = new Probe();
        probe.bad = Spell.restore(in);
        probe.stuck = Spell.restore(in);
        probe.value = in.measured();
        probe.otherLow = in.measured();
        probe.otherHigh = in.measured();
        return probe;
    }
}
