package dev.rimecast.telemetry.senml;

import dev.rimecast.telemetry.reading.RejectReason;

/** One record is not taken; the pack goes on. Without a stack trace, since a bad gateway makes thousands of them. */
final class BadRecord extends RuntimeException {
    private static final long serialVersionUID = 1L;

    private final RejectReason reason;
    private final String detail;

    BadRecord(RejectReason reason, String detail) {
        super(detail, null, false, false);
        this.reason = reason;
        this.detail = detail;
    }

    RejectReason reason() {
        return reason;
    }

    String detail() {
        return detail;
    }
}
