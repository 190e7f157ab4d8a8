package dev.rimecast.analytics.diagnosis;

import java.util.Locale;

/** How a change came. */
public enum Course {
    DRIFT,
    STEP,
    /** For a cause: both happen. For what is seen: cannot be told yet. */
    EITHER;

    String code() {
        return name().toLowerCase(Locale.ROOT);
    }
}
