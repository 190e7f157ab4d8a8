package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.finding.Priority;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.LongSupplier;
import java.util.function.ToDoubleFunction;

/**
 * What waits in the database, for whoever scrapes: open alerts, notices, records on their way into Kafka. Looked at every ten seconds,
 * so that a scrape never waits for the database; NaN when the last look is too old to say anything.
 */
public final class Backlog {
    private static final Duration EVERY = Duration.ofSeconds(10);
    private static final Duration TOO_OLD = Duration.ofMinutes(1);

    private final Database database;
    private final LongSupplier monotonicNanos;
    private volatile Optional<Look> last = Optional.empty();

    /**
     * @param outboxHead the oldest record that waits for Kafka; empty: none does
     * @param headSince by the monotonic clock
     */
    private record Look(
            long atNanos,
            Map<String, Long> openAlerts,
            long noticesDue,
            Optional<Instant> oldestNotice,
            Instant now,
            long outboxSize,
            Optional<Long> outboxHead,
            long headSince) {

        double oldestNoticeSeconds() {
            return oldestNotice
                    .map(due -> Duration.between(due, now).toMillis() / 1e3)
                    .orElse(0.0);
        }

        double outboxSeconds() {
            return outboxHead.isPresent() ? (atNanos - headSince) / 1e9 : 0;
        }
    }

    public Backlog(Database database, MeterRegistry meters, LongSupplier monotonicNanos) {
        this.database = database;
        this.monotonicNanos = monotonicNanos;
        for (Priority priority : Priority.values()) {
            Gauge.builder(
                            "rimecast.alerts.open",
                            this,
                            now(look -> look.openAlerts().getOrDefault(priority.code(), 0L)))
                    .description("Alerts that are not back to normal and done with")
                    .tag("priority", priority.code())
                    .register(meters);
        }
        gauge(meters, "notices.waiting", "Notices that should have left by now and have not", Look::noticesDue);
        gauge(
                meters,
                "notices.waiting.seconds",
                "How long the one of them has waited that waits longest",
                Look::oldestNoticeSeconds);
        gauge(meters, "outbox.records", "Records that wait in the database for Kafka", Look::outboxSize);
        gauge(
                meters,
                "outbox.waiting.seconds",
                "How long the oldest of them has been seen to wait",
                Look::outboxSeconds);
    }

    private void gauge(MeterRegistry meters, String name, String description, ToDoubleFunction<Look> value) {
        Gauge.builder("rimecast.alerts." + name, this, now(value))
                .description(description)
                .register(meters);
    }

    private static ToDoubleFunction<Backlog> now(ToDoubleFunction<Look> value) {
        return backlog -> backlog.last
                .filter(look -> backlog.monotonicNanos.getAsLong() - look.atNanos() <= TOO_OLD.toNanos())
                .map(look -> value.applyAsDouble(look))
                .orElse(Double.NaN);
    }

    /**
     * Looks, if it is time; by one thread.
     *
     * @param now by the clock of the notices
     */
    public void look(Instant now) {
        long nanos = monotonicNanos.getAsLong();
        if (last.filter(look -> nanos - look.atNanos() < EVERY.toNanos()).isEmpty()) {
            last = Optional.of(read(now, nanos));
        }
    }

    private Look read(Instant now, long nanos) {
        return database.jdbi().withHandle(handle -> {
            Map<String, Long> open = new HashMap<>();
            handle.createQuery("select priority, count(*) from alert where state <> 'normal' group by priority")
                    .map((row, context) -> Map.entry(row.getString(1), row.getLong(2)))
                    .forEach(entry -> open.put(entry.getKey(), entry.getValue()));
            return handle.createQuery("""
                    select n.waiting, n.oldest, o.size, o.head
                    from (select count(*) as waiting, min(due_at) as oldest from notice_delivery
                            where state in ('waiting', 'sending') and due_at <= :now) n,
                        (select count(*) as size, min(id) as head from log_outbox) o""")
                    .bind("now", now)
                    .map((row, context) -> {
                        Optional<Long> head = Optional.ofNullable(row.getObject(4, Long.class));
                        return new Look(
                                nanos,
                                open,
                                row.getLong(1),
                                Optional.ofNullable(row.getTimestamp(2)).map(java.sql.Timestamp::toInstant),
                                now,
                                row.getLong(3),
                                head,
                                last.filter(before -> before.outboxHead().equals(head))
                                        .map(Look::headSince)
                                        .orElse(nanos));
                    })
                    .one();
        });
    }
}
