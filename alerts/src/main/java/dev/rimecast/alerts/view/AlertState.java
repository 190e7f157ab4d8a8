package dev.rimecast.alerts.view;

/** Where an alert is in its life, in the words of ISA-18.2 / IEC 62682; screens use plain ones. */
public enum AlertState {
    /** Raised, and nobody has seen it. */
    UNACKNOWLEDGED,
    /** Raised, and somebody has seen it. */
    ACKNOWLEDGED,
    /** Over, but nobody has seen it yet. */
    RETURNED_UNACKNOWLEDGED,
    /** Over and seen, or seen and then over. */
    NORMAL
}
