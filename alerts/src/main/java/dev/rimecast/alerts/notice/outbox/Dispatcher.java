package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.notice.Channel;
import dev.rimecast.alerts.notice.Delivery.Kind;
import dev.rimecast.alerts.notice.Matter;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.Receiver;
import dev.rimecast.alerts.notice.outbox.Checkpoint.Step;
import dev.rimecast.alerts.notice.outbox.ClaimStore.Claim;
import dev.rimecast.alerts.notice.outbox.ClaimStore.Companion;
import dev.rimecast.alerts.notice.send.Message;
import dev.rimecast.alerts.notice.send.Outcome;
import dev.rimecast.alerts.notice.text.Content;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.Database;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.Executor;
import java.util.function.BiFunction;
import java.util.stream.Stream;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.JdbiException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Sends what is due, at least once: claimed in one transaction, sent, and the result written in another. A process that
 * ends in between leaves a claim that runs out, and the notice goes again with the same id and the same content.
 *
 * <p>Who is slow holds up nobody else: {@link UnderWay}. A claim is held as long as its attempt lasts.
 */
final class Dispatcher {
    private static final Logger LOG = LoggerFactory.getLogger(Dispatcher.class);

    private final Database database;
    private final NoticeBook book;
    private final Texts texts;
    private final SituationQuery situations;
    private final BiFunction<Channel, Message, Outcome> senders;
    private final Retries retries;
    private final InstantSource clock;
    private final Executor executor;
    private final Checkpoint checkpoint;
    private final NoticeMeter meter;
    private final UnderWay underWay;
    private Instant renewed = Instant.EPOCH;

    Dispatcher(
            Database database,
            NoticeBook book,
            BooksInForce books,
            Texts texts,
            BiFunction<Channel, Message, Outcome> senders,
            Retries retries,
            InstantSource clock,
            Executor executor,
            Checkpoint checkpoint,
            NoticeMeter meter) {
        this.database = database;
        this.book = book;
        this.texts = texts;
        this.situations = new SituationQuery(book, books);
        this.senders = senders;
        this.retries = retries;
        this.clock = clock;
        this.executor = executor;
        this.checkpoint = checkpoint;
        this.meter = meter;
        this.underWay = new UnderWay(book);
    }

    private record Ready(Claim claim, Content content) {}

    /** Starts to send everything that is due now. By one thread at a time: two would claim two notices for one receiver. */
    synchronized void run() {
        renew();
        Optional<Ready> ready = claim();
        while (ready.isPresent()) {
            Ready next = ready.get();
            underWay.begins(next.claim(), channel(next.claim()));
            executor.execute(() -> deliver(next));
            ready = claim();
        }
    }

    /** An attempt may last longer than a claim without a word does. */
    private void renew() {
        Instant now = clock.instant();
        if (now.isBefore(renewed) || !now.isBefore(renewed.plus(ClaimStore.LEASE.dividedBy(4)))) {
            renewed = now;
            database.jdbi().useTransaction(handle -> ClaimStore.renew(handle, underWay.claims(), now));
        }
    }

    /** The next notice with what it says; one that ends here instead holds up no other. */
    private Optional<Ready> claim() {
        Optional<Turn> turn = turn();
        while (turn.isPresent() && turn.get().ready().isEmpty()) {
            turn = turn();
        }
        turn.ifPresent(next -> checkpoint.passed(Step.CLAIMED));
        return turn.flatMap(Turn::ready);
    }

    /** @param ready empty where it has ended */
    private record Turn(Optional<Ready> ready) {
        static final Turn ENDED = new Turn(Optional.empty());
    }

    /** Empty where it is nobody's turn. */
    private Optional<Turn> turn() {
        return database.jdbi().inTransaction(handle -> {
            Instant now = clock.instant();
            Optional<Claim> claim = ClaimStore.next(handle, underWay.blocked(), now);
            return claim.map(next -> written(handle, next, now));
        });
    }

    private Turn written(Handle handle, Claim claim, Instant now) {
        Content content;
        try {
            content = content(handle, claim, now, together(handle, claim, now));
        } catch (JdbiException e) {
            throw e; // of the database, not of this notice
        } catch (RuntimeException e) {
            LOG.error(
                    "notice {} to {} can't be written and is given up; please report it",
                    claim.id(),
                    claim.receiver(),
                    e);
            ClaimStore.end(handle, claim, "failed", "it can't be written: " + e, now);
            meter.count(channel(claim).map(Channel::word).orElse("unknown"), NoticeMeter.Result.FAILED);
            return Turn.ENDED;
        }
        Optional<Content> leaves = claim.kind() == Kind.LINK
                ? claim.siteLink().flatMap(link -> LinkMail.withSecret(handle, link, content, now))
                : Optional.of(content);
        if (leaves.isEmpty()) {
            ClaimStore.end(handle, claim, "cancelled", "its link has ended", now);
            return Turn.ENDED;
        }
        ClaimStore.take(handle, claim, content.toJson(), now);
        checkpoint.passed(Step.CLAIM_WRITTEN);
        return new Turn(Optional.of(new Ready(claim, leaves.get())));
    }

    /** Who goes in the same mail; of one that has left before that is settled. */
    private static List<Companion> together(Handle handle, Claim claim, Instant now) {
        if (claim.content().isPresent() || claim.matter().isEmpty()) {
            return List.of();
        }
        List<Companion> companions = ClaimStore.companions(handle, claim, now);
        return companions.size() + 1 < Together.FEWEST ? List.of() : companions;
    }

    private Content content(Handle handle, Claim claim, Instant now, List<Companion> companions) {
        if (claim.content().isPresent()) {
            return Content.ofJson(claim.content().get());
        }
        UUID first = claim.matter().orElseThrow();
        if (companions.isEmpty()) {
            Matter matter = matter(handle, first);
            boolean iceAtRisk = situations.of(handle, matter, now).iceAtRisk();
            return texts.ofCase(claim.kind(), shown(handle, matter), iceAtRisk, now);
        }
        List<UUID> cases = Stream.concat(Stream.of(first), companions.stream().map(Companion::matter))
                .map(id -> shown(handle, matter(handle, id)))
                .toList();
        Content content = texts.ofCases(claim.kind(), cases, now);
        ClaimStore.join(
                handle,
                claim,
                companions,
                texts.together(content, companions.size(), claim.id()).toJson());
        return content;
    }

    private static Matter matter(Handle handle, UUID id) {
        return MatterStore.find(handle, id).orElseThrow();
    }

    private static UUID shown(Handle handle, Matter matter) {
        return SituationQuery.shown(handle, matter.caseId());
    }

    private void deliver(Ready ready) {
        try {
            Optional<Channel> channel = channel(ready.claim());
            Outcome outcome = channel.map(to -> send(to, ready))
                    .orElseGet(() -> new Outcome.Refused("notices.yaml has no such receiver any more"));
            checkpoint.passed(Step.SENT);
            NoticeMeter.Result result = database.jdbi().inTransaction(handle -> {
                NoticeMeter.Result written = record(
                        handle,
                        ready.claim(),
                        outcome,
                        channel.map(Channel::target).orElse(""));
                checkpoint.passed(Step.RESULT_WRITTEN);
                return written;
            });
            meter.count(channel.map(Channel::word).orElse("unknown"), result);
        } finally {
            underWay.ends(ready.claim());
        }
    }

    /** Mail to a site goes where it was planned to; who else is told stands in the book. */
    private Optional<Channel> channel(Claim claim) {
        return claim.kind() == Kind.LINK
                ? Optional.of(new Channel.Mail(claim.target()))
                : book.receiver(claim.receiver()).map(Receiver::channel);
    }

    private Outcome send(Channel channel, Ready ready) {
        Claim claim = ready.claim();
        try {
            return senders.apply(
                    channel, new Message(claim.id(), claim.kind().code(), ready.content(), clock.instant()));
        } catch (RuntimeException e) {
            LOG.warn("sending notice {} to {} failed", claim.id(), claim.receiver(), e);
            return new Outcome.Again("failed on our side: " + e, Optional.empty());
        }
    }

    private NoticeMeter.Result record(Handle handle, Claim claim, Outcome outcome, String target) {
        Instant now = clock.instant();
        Optional<Instant> again = outcome instanceof Outcome.Again later
                ? retries.next(claim.attempt(), later.notBefore()).map(now::plus)
                : Optional.empty();
        ClaimStore.finish(handle, claim, outcome, again, now);
        if (outcome instanceof Outcome.Gone gone) {
            ClaimStore.close(handle, claim.receiver(), target, gone.detail(), now);
        } else if (outcome instanceof Outcome.Sent && claim.kind() == Kind.TEST) {
            ClaimStore.open(handle, claim.receiver());
        }
        if (!(outcome instanceof Outcome.Sent)) {
            LOG.info("notice {} to {}: {}", claim.id(), claim.receiver(), outcome.detail());
        }
        if (outcome instanceof Outcome.Sent) {
            return NoticeMeter.Result.SENT;
        }
        return again.isPresent() ? NoticeMeter.Result.RETRIED : NoticeMeter.Result.FAILED;
    }
}
