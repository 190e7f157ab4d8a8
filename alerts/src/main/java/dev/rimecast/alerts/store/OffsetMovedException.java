package dev.rimecast.alerts.store;

/** Another instance has taken the same records in; this one must find its place again. */
public final class OffsetMovedException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    OffsetMovedException(String message) {
        super(message);
    }
}
