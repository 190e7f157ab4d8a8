package dev.rimecast.alerts.notice.outbox;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.notice.send.Message;
import dev.rimecast.alerts.store.Database;
import java.time.Instant;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** What must hold of the outbox when everything is over, whatever happened before. */
final class Wholeness {
    private final Database database;
    private final Inboxes inboxes;

    Wholeness(Database database, Inboxes inboxes) {
        this.database = database;
        this.inboxes = inboxes;
    }

    /** Nothing waits, every event went, who was told of a beginning was told its end once and nothing after that. */
    void assertWhole(long seed) {
        assertThat(count("select count(*) from alert_event")).isZero();
        assertThat(count("select count(*) from notice_delivery where state in ('waiting', 'sending')"))
                .as("seed %s", seed)
                .isZero();
        assertThat(count("select count(*) from notice_matter where not is_over"))
                .isZero();
        assertThat(count("""
            select count(*) from notice_delivery d where d.kind = 'over' and d.state = 'sent' and not exists (
                select 1 from notice_delivery e where e.matter = d.matter and e.receiver = d.receiver
                    and e.kind in ('raised', 'worse') and e.state = 'sent' and e.ended_at <= d.ended_at)\
            """)).isZero();
        assertThat(count("""
            select count(*) from notice_delivery d where d.kind in ('raised', 'worse') and d.state = 'sent'
                and d.route <> 'loud' and 1 <> (select count(*) from notice_delivery e where e.matter = d.matter
                    and e.receiver = d.receiver and e.kind = 'over' and e.state = 'sent')\
            """)).isZero();
        assertThat(count("""
            select count(*) from notice_delivery d join notice_delivery e on e.matter = d.matter
                and e.receiver = d.receiver and e.kind in ('over', 'passed') and e.state = 'sent'
            where d.kind in ('raised', 'worse') and d.state = 'sent' and d.ended_at > e.ended_at\
            """)).isZero();
        for (List<Message> inbox : inboxes.all()) {
            Map<UUID, Message> first = new HashMap<>();
            for (Message message : inbox) {
                Message before = first.putIfAbsent(message.id(), message);
                if (before != null) {
                    assertThat(message.content()).isEqualTo(before.content());
                }
            }
        }
    }

    /**
     * By what the receivers have, and not by what the table says that they have.
     *
     * @param since when the receivers began to listen
     * @param deaths ends of the process at a step, each of which may let one message come again
     */
    void assertHeard(long seed, Instant since, MoodyReceivers receivers, int deaths) {
        Map<UUID, Delivered> known = database.jdbi()
                .withHandle(handle -> handle.createQuery(
                                "select id, matter, kind, state from notice_delivery where created_at > :since")
                        .bind("since", since)
                        .map((row, context) -> new Delivered(
                                row.getObject(1, UUID.class),
                                row.getObject(2, UUID.class),
                                row.getString(3),
                                row.getString(4)))
                        .collectToMap(Delivered::id, each -> each));
        Map<String, String> heard = new HashMap<>();
        Set<UUID> ids = new HashSet<>();
        for (MoodyReceivers.Taken taken : receivers.taken()) {
            assertThat(known)
                    .as("seed %s: %s has an id that nobody gave", seed, taken)
                    .containsKey(taken.id());
            Delivered of = Objects.requireNonNull(known.get(taken.id()));
            assertThat(of.kind()).isEqualTo(taken.kind());
            assertThat(of.state()).as("seed %s: %s", seed, taken).isIn("sent", "failed");
            if (ids.add(taken.id()) && of.matter() != null) {
                String before = heard.put(taken.receiver() + of.matter(), taken.kind());
                if (taken.kind().equals("over")) {
                    assertThat(before).as("seed %s: %s", seed, taken).isIn("raised", "worse");
                } else {
                    assertThat(before).as("seed %s: %s", seed, taken).isNotIn("over", "passed");
                }
            }
        }
        assertThat(known.values())
                .filteredOn(each -> each.state().equals("sent"))
                .as("seed %s: what is called sent is there", seed)
                .allSatisfy(each -> assertThat(ids).contains(each.id()));
        assertThat(receivers.repeats())
                .as("seed %s: nothing comes again without a reason", seed)
                .isLessThanOrEqualTo(receivers.takenUnseen() + deaths);
    }

    private record Delivered(UUID id, @Nullable UUID matter, String kind, String state) {}

    long openEpisodesTwice() {
        return count("""
            select count(*) from (select 1 from alert where state <> 'normal'
                group by subject, condition having count(*) > 1) twice\
            """);
    }

    private long count(String sql) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery(sql).mapTo(Long.class).one());
    }
}
