package dev.rimecast.engines;

/** An engine could not be started or used. The message says what, where, and what can be done. */
public final class EngineException extends RuntimeException {
    public EngineException(String message) {
        super(message);
    }

    public EngineException(String message, Throwable cause) {
        super(message, cause);
    }
}
