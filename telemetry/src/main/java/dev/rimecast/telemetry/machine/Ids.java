package dev.rimecast.telemetry.machine;

import java.util.regex.Pattern;

/** Identifiers of machines, gateways, sites, rooms and model groups. */
public final class Ids {
    private static final Pattern LEGAL = Pattern.compile("[a-z0-9][a-z0-9._-]{0,62}");

    private Ids() {}

    /** Whether {@code text} matches {@code [a-z0-9][a-z0-9._-]{0,62}}. */
    public static boolean isLegal(String text) {
        return LEGAL.matcher(text).matches();
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
