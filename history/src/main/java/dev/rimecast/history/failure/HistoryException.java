package dev.rimecast.history.failure;

/** The history can't be read or written; the message says what, where, and what to do. */
public class HistoryException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    public HistoryException(String message) {
        super(message);
    }

    public HistoryException(String message, Throwable cause) {
        super(message, cause);
    }
}
