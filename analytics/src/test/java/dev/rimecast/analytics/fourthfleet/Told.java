package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.telemetry.machine.Channel;

/** Who hears of edges and durations when they happen. */
interface Told {
    void number(Channel channel, long millis, double value);

    void flag(Channel channel, long millis, boolean value);
}
