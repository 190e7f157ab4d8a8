package dev.rimecast.alerts.consume;

import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.Timer;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;

/**
 * How long an alert was on its way: from when the record that decided came into the site's log (a pack, or the minute's tick that
 * noticed a silence; Kafka stamps it, and analytics tells it beside the finding) until the alert was committed in the database. How
 * long ingest took before that is the metric {@code rimecast.ingest.confirmation}. By the real time on both sides, whatever
 * the machines' time is, so the clocks of the hosts have to agree.
 *
 * <p>An alert counts once, when it is raised. Reading a log again raises none, so it counts none. What is caught up after an outage
 * of ours counts with the whole of its delay, since people waited so long for it. What a gateway had kept counts from when
 * ingest got it, since nobody here could know of it before.
 */
final class ReadingToAlert {
    /** Upper bounds of the buckets. The rules for Prometheus ask about a minute; beyond it they tell how bad it was. */
    private static final Duration[] BUCKETS = {
        Duration.ofMillis(500),
        Duration.ofSeconds(1),
        Duration.ofSeconds(2),
        Duration.ofSeconds(5),
        Duration.ofSeconds(10),
        Duration.ofSeconds(30),
        Duration.ofMinutes(1),
        Duration.ofMinutes(5),
        Duration.ofMinutes(30),
        Duration.ofHours(2)
    };

    private final Timer timer;
    private final InstantSource wall;

    ReadingToAlert(MeterRegistry meters, InstantSource wall) {
        this.timer = Timer.builder("rimecast.alerts.reading.to.alert")
                .description(
                        "From a reading's arrival in the site's log until the alert that it raised was in the database")
                .serviceLevelObjectives(BUCKETS)
                .register(meters);
        this.wall = wall;
    }

    /** @param recordedAt when the record that decided came into the site's log */
    void raised(Instant recordedAt) {
        timer.record(Duration.ofMillis(Math.max(0, wall.millis() - recordedAt.toEpochMilli())));
    }
}
