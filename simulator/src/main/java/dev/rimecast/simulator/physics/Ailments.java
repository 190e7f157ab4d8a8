package dev.rimecast.simulator.physics;

import java.util.Arrays;

/** What a machine suffers from now: one value for each {@link Ailment}. Not safe for threads. */
public final class Ailments {
    private final double[] values = new double[Ailment.values().length];

    public Ailments() {
        clear();
    }

    /** Makes everything sound. */
    public void clear() {
        for (Ailment ailment : Ailment.values()) {
            values[ailment.ordinal()] = ailment.sound();
        }
    }

    public double get(Ailment ailment) {
        return values[ailment.ordinal()];
    }

    public boolean is(Ailment ailment) {
        return values[ailment.ordinal()] != 0;
    }

    /** Sets a value and returns this. */
    public Ailments with(Ailment ailment, double value) {
        values[ailment.ordinal()] = value;
        return this;
    }

    /** Two faults that wear the same thing multiply. */
    public void scale(Ailment ailment, double factor) {
        values[ailment.ordinal()] *= factor;
    }

    /** Two faults that add the same thing add up. */
    public void add(Ailment ailment, double amount) {
        values[ailment.ordinal()] += amount;
    }

    @Override
    public String toString() {
        return Arrays.toString(values);
    }
}
