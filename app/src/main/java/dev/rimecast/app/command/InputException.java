package dev.rimecast.app.command;

/** What was given can't be used; the message says what, where and what to do. */
final class InputException extends RuntimeException {
    private static final long serialVersionUID = 1;

    InputException(String message) {
        super(message);
    }
}
