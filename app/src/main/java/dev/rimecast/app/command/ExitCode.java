package dev.rimecast.app.command;

/** How a command ends; the same for all of them. */
final class ExitCode {
    static final int OK = 0;
    /** Something went wrong while it ran. */
    static final int FAILED = 1;
    /** What was typed, or what a file says, can't be used; nothing was done. */
    static final int WRONG_INPUT = 2;

    static final String FOOTER =
            "%nExit codes: 0 done, 1 failed while it ran, 2 wrong usage, configuration or input, 130 interrupted.";

    private ExitCode() {}
}
