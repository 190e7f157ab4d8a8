package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.notice.Delivery;
import dev.rimecast.alerts.notice.DigestPlan;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.outbox.Checkpoint.Step;
import dev.rimecast.alerts.notice.text.Content;
import dev.rimecast.alerts.store.ClosureQuery;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.ProofStore;
import dev.rimecast.telemetry.finding.NameBasedId;
import java.sql.Timestamp;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/** Writes the digest of each local day once: the day is the key of a row that comes with its notices. */
final class Digests {
    private static final Duration FIRST_LOOKS_BACK = Duration.ofDays(1);

    /** Work that was lost longer ago is no news; a verdict that comes late is. */
    private static final Duration LOST_FOR = Duration.ofDays(7);

    private final Database database;
    private final NoticeBook book;
    private final Texts texts;
    private final Checkpoint checkpoint;

    Digests(Database database, NoticeBook book, Texts texts, Checkpoint checkpoint) {
        this.database = database;
        this.book = book;
        this.texts = texts;
        this.checkpoint = checkpoint;
    }

    private record Last(LocalDate day, Instant at) {}

    void run(Instant now) {
        for (DigestPlan plan : book.digests()) {
            Optional<Last> last = database.jdbi().withHandle(handle -> last(handle, plan));
            plan.due(now, last.map(Last::day)).ifPresent(day -> {
                Instant since = last.map(Last::at).orElse(now.minus(FIRST_LOOKS_BACK));
                Texts.DigestFacts facts = database.jdbi()
                        .withHandle(handle -> new Texts.DigestFacts(
                                ice(handle),
                                ProofStore.notHeld(handle, plan.name(), now.minus(LOST_FOR), now),
                                ClosureQuery.standing(handle, now)));
                Content content = texts.ofDigest(plan, day, since, facts, now);
                database.jdbi().useTransaction(handle -> write(handle, plan, day, content, now));
            });
        }
    }

    private static Optional<Last> last(Handle handle, DigestPlan plan) {
        return handle.createQuery("select day, at from notice_digest where name = :name order by day desc limit 1")
                .bind("name", plan.name())
                .map((row, context) -> new Last(
                        row.getObject(1, LocalDate.class),
                        Optional.ofNullable(row.getTimestamp(2))
                                .map(Timestamp::toInstant)
                                .orElseThrow()))
                .findOne();
    }

    /** What the clock of each site that may run out says. */
    private static Map<String, String> ice(Handle handle) {
        Map<String, String> words = new HashMap<>();
        handle.createQuery("select site, words from ice_outlook where ice = 'short'")
                .map((row, context) -> words.put(row.getString(1), row.getString(2)) == null)
                .list();
        return words;
    }

    private void write(Handle handle, DigestPlan plan, LocalDate day, Content content, Instant now) {
        int isFirst = handle.createUpdate(
                        "insert into notice_digest (name, day, at) values (:name, :day, :at) on conflict do nothing")
                .bind("name", plan.name())
                .bind("day", day)
                .bind("at", now)
                .execute();
        if (isFirst == 0) {
            return;
        }
        for (String receiver : plan.receivers()) {
            UUID id = NameBasedId.of("notice-digest|" + plan.name() + '|' + day + '|' + receiver);
            Delivery delivery =
                    new Delivery(id, Delivery.Kind.DIGEST, 0, plan.name(), 0, receiver, Delivery.State.WAITING, 0, now);
            DeliveryStore.insert(
                    handle, delivery, Optional.empty(), Optional.empty(), book, Optional.of(content.toJson()), now);
        }
        checkpoint.passed(Step.DIGEST_PLANNED);
    }
}
