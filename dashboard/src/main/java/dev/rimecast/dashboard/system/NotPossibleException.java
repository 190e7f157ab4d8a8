package dev.rimecast.dashboard.system;

/** What was asked for can't be done now or here; the message says why and what to do. */
public final class NotPossibleException extends RuntimeException {
    private static final long serialVersionUID = 1;

    public NotPossibleException(String message) {
        super(message);
    }

    public NotPossibleException(String message, Throwable cause) {
        super(message, cause);
    }
}
