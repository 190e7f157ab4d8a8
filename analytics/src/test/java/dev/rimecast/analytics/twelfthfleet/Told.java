package dev.rimecast.analytics.twelfthfleet;

import dev.rimecast.telemetry.machine.Channel;

/** Something a machine says when it happens: time in s since the start, value in the channel's unit. */
record Told(double at, Channel channel, double value) {}
