package dev.rimecast.alerts.keep;

import java.time.Duration;

/**
 * How long the database keeps what comes without end. Alerts, cases, what people reported and did, and every audit are
 * records and have no age.
 *
 * @param temperatures of the five-minute roll-ups
 * @param cycles of cycles and of spells in which a bin was full; also of how an alert developed, after its end
 * @param notices of the log of notices, after the end of what they are about
 */
public record Retention(Duration temperatures, Duration cycles, Duration notices) {
    /** Nothing that is drawn or reckoned looks further back than six weeks, but for what people look at. */
    public static final Duration LEAST = Duration.ofDays(60);

    /** What holds where nothing else is said; the reasons are beside the settings. */
    public static final Retention STANDARD =
            new Retention(Duration.ofDays(100), Duration.ofDays(400), Duration.ofDays(400));

    public Retention {
        require("temperatures", temperatures);
        require("cycles", cycles);
        require("notices", notices);
    }

    private static void require(String name, Duration age) {
        if (age.compareTo(LEAST) < 0) {
            throw new IllegalArgumentException(name + " must be at least " + LEAST + ", was " + age);
        }
    }
}
