package dev.rimecast.telemetry.machine;

/** Identifiers of machines, gateways, sites, rooms and model groups. */
public final class Ids {
    /** Under this name stands what came from a sender that named no gateway, so no gateway can have it. */
    public static final String NOBODY = "unknown";

    private static final int MAX_LENGTH = 63;

    private Ids() {}

    /** Whether {@code text} matches {@code [a-z0-9][a-z0-9._-]{0,62}}. */
    public static boolean isLegal(String text) {
        int length = text.length();
        if (length == 0 || length > MAX_LENGTH || !isLetterOrDigit(text.charAt(0))) {
            return false;
        }
        for (int i = 1; i < length; i++) {
            char c = text.charAt(i);
            if (!isLetterOrDigit(c) && c != '.' && c != '_' && c != '-') {
                return false;
            }
        }
        return true;
    }

    /** Whether a gateway can be called so: {@link #isLegal}, and not {@link #NOBODY}. */
    public static boolean isGateway(String text) {
        return isLegal(text) && !text.equals(NOBODY);
    }

    private static boolean isLetterOrDigit(char c) {
        return c >= 'a' && c <= 'z' || c >= '0' && c <= '9';
    }

    /**
     * Returns {@code text} unchanged.
     *
     * @throws IllegalArgumentException if it is not an identifier; the message names {@code field} and the value
     */
    public static String require(String field, String text) {
        if (!isLegal(text)) {
            throw new IllegalArgumentException(
                    field + " '" + text + "' is not an identifier: use a-z, 0-9, dot, underscore and dash, at most 63");
        }
        return text;
    }
}
