package dev.rimecast.alerts.notice;

import java.util.Locale;

/** What kind of trouble a notice is about. */
public enum Trouble {
    /** Of one machine. */
    MACHINE,
    /** Of a place: a hot room, water off, a power cut. */
    PLACE,
    /** No readings come, so nothing can be said. */
    SILENCE;

    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }
}
