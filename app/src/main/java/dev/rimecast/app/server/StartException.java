package dev.rimecast.app.server;

/** The product can't start as it is; the message says why and what to do. */
public final class StartException extends RuntimeException {
    private static final long serialVersionUID = 1;

    public StartException(String message) {
        super(message);
    }

    public StartException(String message, Throwable cause) {
        super(message, cause);
    }
}
