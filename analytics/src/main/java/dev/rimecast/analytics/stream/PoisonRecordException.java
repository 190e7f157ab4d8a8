package dev.rimecast.analytics.stream;

/** A record that can't be processed, whoever tries, and that has changed nothing. It is put aside. */
final class PoisonRecordException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    private final DeadLetter.Reason reason;

    PoisonRecordException(DeadLetter.Reason reason, String message) {
        super(message);
        this.reason = reason;
    }

    PoisonRecordException(DeadLetter.Reason reason, String message, Throwable cause) {
        super(message, cause);
        this.reason = reason;
    }

    DeadLetter.Reason reason() {
        return reason;
    }
}
