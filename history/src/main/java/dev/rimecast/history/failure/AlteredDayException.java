package dev.rimecast.history.failure;

/** A day's file is not as it was written. What is newer than it can be written all the same; a batch would be read again instead. */
public final class AlteredDayException extends HistoryException {
    private static final long serialVersionUID = 1L;

    public AlteredDayException(HistoryException altered) {
        super(String.valueOf(altered.getMessage()), altered);
    }
}
