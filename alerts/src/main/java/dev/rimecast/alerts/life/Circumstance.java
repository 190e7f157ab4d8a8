package dev.rimecast.alerts.life;

import java.util.Locale;

/** What is known about a machine's place and doing that can make an alert mean nothing, in order of what is said first. */
public enum Circumstance {
    /** The site said that it is closed: {@code closed-from}, and no {@code closed-to} since, whoever said that. */
    SITE_CLOSED,
    /** Its gateway is not heard, so nothing behind it is. */
    GATEWAY_DOWN,
    /** It is usually silent at this time: closing time, learned. */
    USUALLY_SILENT,
    /** It says that it is being cleaned. */
    CLEANING,
    /** Its bin calls for no more ice. */
    BIN_FULL;

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

    /** The name of its rule in {@code life.yaml}. */
    public String code() {
        return code;
    }
}
