package dev.rimecast.analytics.otherfleet;

import dev.rimecast.telemetry.machine.Channel;

/** Hears what is told at its own moment, not at the next sample. */
interface Happenings {
    /** @param atSeconds of the simulation's clock */
    void number(Channel channel, double atSeconds, double value);

    void flag(Channel channel, double atSeconds, boolean value);

    /** Nobody listens. */
    Happenings NOBODY = new Happenings() {
        @Override
        public void number(Channel channel, double atSeconds, double value) {}

        @Override
        public void flag(Channel channel, double atSeconds, boolean value) {}
    };
}
