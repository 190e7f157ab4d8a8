package dev.rimecast.dashboard.bench;

import java.util.OptionalLong;

/** How far something is, in records of the log, or in steps of a look at the fleet; how many seconds are left, where that can be told yet. */
public record Progress(long done, long all, OptionalLong secondsLeft) {}
