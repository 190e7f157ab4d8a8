package dev.rimecast.engines;

/**
 * An engine that was running has given up.
 *
 * @param engine {@code kafka}
 * @param code the exit code that it asked for
 * @param reason what it said, may be empty
 */
public record EngineFailure(String engine, int code, String reason) {}
