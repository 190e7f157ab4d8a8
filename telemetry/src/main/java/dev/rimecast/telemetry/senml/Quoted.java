package dev.rimecast.telemetry.senml;

/** A piece of somebody else's payload, fit to stand in a message: short, in quotes, no control characters. */
final class Quoted {
    private static final int MAX_LENGTH = 80;

    private Quoted() {}

    static String of(String text) {
        StringBuilder quoted = new StringBuilder(Math.min(text.length(), MAX_LENGTH) + 3).append('\'');
        for (int i = 0; i < text.length() && i < MAX_LENGTH; i++) {
            char c = text.charAt(i);
            // U+0085, U+2028 and U+2029 end a line for some readers of logs.
            boolean printable =
                    !Character.isISOControl(c) && !Character.isSurrogate(c) && c != '\u2028' && c != '\u2029';
            quoted.append(printable ? c : '?');
        }
        if (text.length() > MAX_LENGTH) {
            quoted.append('\u2026');
        }
        return quoted.append('\'').toString();
    }
}
