package dev.rimecast.telemetry.reading;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;

/**
 * One value of one channel of one machine at one time. The triple (machine, channel, time) is its identity.
 *
 * @param timeMillis the reading's own time, milliseconds since 1970-01-01T00:00:00Z, never that of arrival
 * @param value in the channel's unit; 1 or 0 for a flag; the ordinal of {@link Phase}; 0 for text
 * @param text the machine's own words for {@link Channel#CONTROLLER_STATUS}, empty for every other channel
 */
public record Reading(String machine, Channel channel, long timeMillis, double value, String text) {

    public Reading {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(channel.code() + " of " + machine + " must be finite, was " + value);
        }
    }

    public static Reading number(String machine, Channel channel, long timeMillis, double value) {
        return new Reading(machine, channel, timeMillis, value, "");
    }

    public static Reading flag(String machine, Channel channel, long timeMillis, boolean value) {
        return new Reading(machine, channel, timeMillis, value ? 1 : 0, "");
    }

    public static Reading phase(String machine, long timeMillis, Phase phase) {
        return new Reading(machine, Channel.PHASE, timeMillis, phase.ordinal(), "");
    }

    public static Reading text(String machine, Channel channel, long timeMillis, String text) {
        return new Reading(machine, channel, timeMillis, 0, text);
    }

    /** The value of a flag. */
    public boolean isSet() {
        return value != 0;
    }

    /** The value of {@link Channel#PHASE}. */
    public Phase phase() {
        return Phase.ofOrdinal((int) value);
    }
}
