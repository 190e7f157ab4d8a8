package dev.rimecast.alerts.notice.outbox;

/** Between the steps of the outbox. Tests end the process there; the product goes on. */
@FunctionalInterface
interface Checkpoint {
    Checkpoint NONE = step -> {};

    /** What has just been done. Those before a commit are undone when the process ends there. */
    enum Step {
        EVENTS_READ,
        MATTERS_WRITTEN,
        EVENTS_GONE,
        NOTICES_PLANNED,
        DIGEST_PLANNED,
        CLAIM_WRITTEN,
        CLAIMED,
        SENT,
        RESULT_WRITTEN
    }

    void passed(Step step);
}
