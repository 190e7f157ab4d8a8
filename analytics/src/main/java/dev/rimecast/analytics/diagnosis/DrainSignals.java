package dev.rimecast.analytics.diagnosis;

import java.util.Locale;

/**
 * Whether drain level signals that are too long are long alike. Water that gets away slowly makes each as long as the last;
 * fouled probes hold a signal for as long as dirt and drops happen to bridge them [common practice].
 */
public enum DrainSignals {
    EVEN,
    UNEVEN,
    /** For a cause: both happen. For what is seen: cannot be told. */
    EITHER;

    String code() {
        return name().toLowerCase(Locale.ROOT);
    }
}
