package dev.rimecast.app.backup;

/** A backup can't be made or put back; the message says why and what to do. */
public final class BackupException extends RuntimeException {
    private static final long serialVersionUID = 1;

    public BackupException(String message) {
        super(message);
    }

    public BackupException(String message, Throwable cause) {
        super(message, cause);
    }
}
