package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.notice.Delivery;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.OpeningHours;
import dev.rimecast.alerts.notice.Receiver;
import dev.rimecast.alerts.notice.text.Content;
import dev.rimecast.alerts.notice.text.Rendering;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.view.NoticeView;
import dev.rimecast.alerts.view.Notices;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.ReceiverView;
import dev.rimecast.alerts.view.SiteScope;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.InstantSource;
import java.time.format.TextStyle;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jdbi.v3.core.Handle;

/** The log of notices, and what people do with it. */
final class StoredNotices implements Notices {
    private static final String SELECT = """
            select d.id, d.kind, d.site, m.case_id, d.route, d.step, d.receiver, d.channel, d.target, d.state, d.attempts,
                d.created_at, d.next_at, d.ended_at, d.detail, d.content
            from notice_delivery d left join notice_matter m on m.id = d.matter\s""";

    private final Database database;
    private final NoticeBook book;
    private final Texts texts;
    private final InstantSource clock;
    private final Runnable wake;

    /** @param wake called when something is to be sent at once */
    StoredNotices(Database database, NoticeBook book, Texts texts, InstantSource clock, Runnable wake) {
        this.database = database;
        this.book = book;
        this.texts = texts;
        this.clock = clock;
        this.wake = wake;
    }

    @Override
    public List<NoticeView> list(SiteScope sites, Optional<UUID> after, int limit) {
        String older =
                after.isPresent() ? " and d.sequence < (select sequence from notice_delivery where id = :after)" : "";
        return database.jdbi()
                .withHandle(handle -> handle.createQuery(SELECT + "where (:every or d.site = any(:sites))" + older
                                + " order by d.sequence desc limit :limit")
                        .bindMap(after.map(id -> Map.of("after", id)).orElse(Map.of()))
                        .bind("every", sites.isEvery())
                        .bindArray("sites", String.class, sites.sites())
                        .bind("limit", limit)
                        .map((row, context) -> view(row, false, List.of()))
                        .list());
    }

    @Override
    public Optional<NoticeView> notice(UUID id) {
        return database.jdbi().inTransaction(handle -> one(handle, id));
    }

    private static Optional<NoticeView> one(Handle handle, UUID id) {
        List<NoticeView.Attempt> log = handle.createQuery(
                        "select at, who, outcome, detail from notice_attempt where delivery = :id order by id")
                .bind("id", id)
                .map((row, context) -> new NoticeView.Attempt(
                        instant(row, 1).orElseThrow(), row.getString(2), row.getString(3), row.getString(4)))
                .list();
        return handle.createQuery(SELECT + "where d.id = :id")
                .bind("id", id)
                .map((row, context) -> view(row, true, log))
                .findOne();
    }

    private static NoticeView view(ResultSet row, boolean isWhole, List<NoticeView.Attempt> log) throws SQLException {
        Optional<Content> content = Optional.ofNullable(row.getString(16)).map(Content::ofJson);
        String state = row.getString(10);
        String kind = row.getString(2);
        return new NoticeView(
                row.getObject(1, UUID.class),
                row.getString(2),
                Optional.ofNullable(row.getString(3)),
                Optional.ofNullable(row.getObject(4, UUID.class)),
                row.getString(5),
                row.getInt(6),
                row.getString(7),
                row.getString(8),
                row.getString(9),
                state,
                row.getInt(11),
                instant(row, 12).orElseThrow(),
                instant(row, 13).filter(at -> state.equals("waiting")),
                instant(row, 14),
                row.getString(15),
                content.map(Content::subject),
                isWhole ? content.map(Rendering::plain).map(text -> whole(kind, text)) : Optional.empty(),
                log);
    }

    /** Of a link only its beginning is kept: what opens it is in the mail alone. */
    private static String whole(String kind, String text) {
        return kind.equals(Delivery.Kind.LINK.code())
                ? text + "(The end of this link, which opens it, is in the mail only and kept nowhere.)\n"
                : text;
    }

    private static Optional<Instant> instant(ResultSet row, int column) throws SQLException {
        return Optional.ofNullable(row.getTimestamp(column)).map(Timestamp::toInstant);
    }

    @Override
    public List<ReceiverView> receivers() {
        Map<String, String> closed = new HashMap<>();
        database.jdbi()
                .useHandle(handle -> handle.createQuery("select name, why from notice_receiver_closed")
                        .map((row, context) -> closed.put(row.getString(1), row.getString(2)) == null)
                        .list());
        return book.receivers().values().stream()
                .map(receiver -> new ReceiverView(
                        receiver.name(),
                        receiver.channel().word(),
                        receiver.channel().target(),
                        receiver.hours().map(StoredNotices::words),
                        Optional.ofNullable(closed.get(receiver.name()))))
                .toList();
    }

    private static String words(OpeningHours hours) {
        return Stream.of(DayOfWeek.values())
                        .filter(day -> hours.days().containsKey(day))
                        .map(day -> {
                            OpeningHours.Span span = hours.days().get(day);
                            String name = day.getDisplayName(TextStyle.SHORT, Locale.ENGLISH);
                            return span == null ? name : name + ' ' + span.open() + '–' + span.close();
                        })
                        .collect(Collectors.joining(", "))
                + " (" + hours.zone().getId() + ')';
    }

    @Override
    public Outcome retry(UUID id, Person who) {
        Outcome outcome = database.jdbi().inTransaction(handle -> {
            Optional<String> refused = refuseRetry(handle, id);
            if (refused.isPresent()) {
                return refused.get().isEmpty() ? new Outcome.NotFound() : new Outcome.NotAllowed(refused.get());
            }
            Instant now = clock.instant();
            handle.createUpdate("""
                    update notice_delivery set state = 'waiting', ended_at = null, next_at = :now
                    where state = 'failed' and coalesce(goes_with, id) =
                        (select coalesce(asked.goes_with, asked.id) from notice_delivery asked where asked.id = :id)""")
                    .bind("id", id)
                    .bind("now", now)
                    .executeAndReturnGeneratedKeys("id")
                    .mapTo(UUID.class)
                    .forEach(each -> ClaimStore.log(handle, each, now, who.name(), "tried again by hand", ""));
            return new Outcome.Done(one(handle, id).orElseThrow());
        });
        wake.run();
        return outcome;
    }

    /** Why not; an empty text where there is no such notice. */
    private Optional<String> refuseRetry(Handle handle, UUID id) {
        record Row(String state, String receiver, boolean isOver, boolean isClosed, boolean isLink) {}
        Optional<Row> row = handle.createQuery("""
                select d.state, d.receiver, exists (select 1 from notice_delivery g join notice_matter m on m.id = g.matter
                        where coalesce(g.goes_with, g.id) = coalesce(d.goes_with, d.id)
                            and m.is_over and g.kind in ('raised', 'worse')),
                    exists (select 1 from notice_receiver_closed c where c.name = d.receiver), d.kind = 'link'
                from notice_delivery d where d.id = :id for update of d""")
                .bind("id", id)
                .map((r, context) ->
                        new Row(r.getString(1), r.getString(2), r.getBoolean(3), r.getBoolean(4), r.getBoolean(5)))
                .findOne();
        if (row.isEmpty()) {
            return Optional.of("");
        }
        if (!row.get().state().equals("failed")) {
            return Optional.of("it was not given up: it is " + row.get().state());
        }
        if (row.get().isOver()) {
            return Optional.of("what it asks for is over by now, or a part of it");
        }
        if (row.get().isLink()) {
            return Optional.empty();
        }
        if (!book.receivers().containsKey(row.get().receiver())) {
            return Optional.of("notices.yaml has no receiver " + row.get().receiver() + " any more");
        }
        return row.get().isClosed()
                ? Optional.of("the receiver had asked for nothing more: send a test first, which opens it again")
                : Optional.empty();
    }

    @Override
    public Outcome test(String name, Person who) {
        Optional<Receiver> receiver = book.receiver(name);
        if (receiver.isEmpty()) {
            return new Outcome.NotFound();
        }
        Outcome outcome = database.jdbi().inTransaction(handle -> {
            Instant now = clock.instant();
            Delivery delivery =
                    new Delivery(UUID.randomUUID(), Delivery.Kind.TEST, 0, "", 0, name, Delivery.State.WAITING, 0, now);
            String content = texts.test(name, who.name(), now).toJson();
            DeliveryStore.insert(handle, delivery, Optional.empty(), Optional.empty(), book, Optional.of(content), now);
            ClaimStore.log(handle, delivery.id(), now, who.name(), "test asked for", "");
            return new Outcome.Done(one(handle, delivery.id()).orElseThrow());
        });
        wake.run();
        return outcome;
    }
}
