package dev.rimecast.alerts.notice.outbox;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.notice.send.Message;
import dev.rimecast.alerts.store.Database;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

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
                        and e.kind in ('raised', 'worse') and e.state = 'sent' and e.ended_at <= d.ended_at)""")).isZero();
        assertThat(count("""
                select count(*) from notice_delivery d where d.kind in ('raised', 'worse') and d.state = 'sent'
                    and d.route <> 'loud' and 1 <> (select count(*) from notice_delivery e where e.matter = d.matter
                        and e.receiver = d.receiver and e.kind = 'over' and e.state = 'sent')""")).isZero();
        assertThat(count("""
                select count(*) from notice_delivery d join notice_delivery e on e.matter = d.matter
                    and e.receiver = d.receiver and e.kind in ('over', 'passed') and e.state = 'sent'
                where d.kind in ('raised', 'worse') and d.state = 'sent' and d.ended_at > e.ended_at""")).isZero();
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

    long openEpisodesTwice() {
        return count("""
                select count(*) from (select 1 from alert where state <> 'normal'
                    group by subject, condition having count(*) > 1) twice""");
    }

    private long count(String sql) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery(sql).mapTo(Long.class).one());
    }
}
