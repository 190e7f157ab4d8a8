package dev.rimecast.alerts.notice;

import java.nio.file.Path;

/** Files of routes for tests. */
public final class Books {
    private Books() {}

    /** A desk with hours, a colleague who is told after half an hour, and a log of everything urgent. */
    public static final String DESK = """
            link: https://rimecast.example
            receivers:
              desk: {outbox-only: true, zone: Europe/London, hours: {mon-fri: "07:00-18:00"}}
              standby: {outbox-only: true, zone: Europe/London, hours: {mon-sun: "07:15-22:00"}}
              log: {outbox-only: true}
            routes:
              - name: main
                steps:
                  - {to: [desk]}
                  - {to: [standby], unacknowledged-for: 30m}
              - name: loud
                priorities: [urgent]
                tell-end: false
                steps:
                  - {to: [log]}
            digests:
              - {name: morning, to: [desk], at: "06:30", zone: Europe/London}
            """;

    public static NoticeBook desk() {
        return NoticeBook.parse("notices.yaml", DESK, Path.of(""));
    }
}
