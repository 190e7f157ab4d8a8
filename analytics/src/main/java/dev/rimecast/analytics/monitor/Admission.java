package dev.rimecast.analytics.monitor;

/** What becomes of one stored reading; see {@link MonitorCounts}. */
enum Admission {
    USED,
    REPEATED,
    LATE,
    CONFLICTING,
    UNREGISTERED
}
