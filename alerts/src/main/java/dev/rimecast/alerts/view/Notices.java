package dev.rimecast.alerts.view;

import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** What was sent to whom, and what people do about it. Safe for many threads. */
public interface Notices {
    /** Where nobody is told anything. */
    Notices NONE = new Notices() {
        @Override
        public List<NoticeView> list(SiteScope sites, Optional<UUID> after, int limit) {
            return List.of();
        }

        @Override
        public Optional<NoticeView> notice(UUID id) {
            return Optional.empty();
        }

        @Override
        public List<ReceiverView> receivers() {
            return List.of();
        }

        @Override
        public Outcome retry(UUID id, Person who) {
            return new Outcome.NotFound();
        }

        @Override
        public Outcome test(String receiver, Person who) {
            return new Outcome.NotFound();
        }
    };

    /**
     * The newest first, without texts and attempts.
     *
     * @param sites only those about these sites; digests and tests are about every site
     * @param after those that are older than this one; empty for the beginning
     * @param limit at most this many
     */
    List<NoticeView> list(SiteScope sites, Optional<UUID> after, int limit);

    /** Of every site, from the beginning. */
    default List<NoticeView> list(int limit) {
        return list(SiteScope.EVERY, Optional.empty(), limit);
    }

    /** One, with its text and attempts. */
    Optional<NoticeView> notice(UUID id);

    /** In the order of {@code notices.yaml}. */
    List<ReceiverView> receivers();

    /** Tries one that was given up again, with the same id and text. */
    Outcome retry(UUID id, Person who);

    /** Sends a test. One that arrives opens a receiver again that had asked for nothing more. */
    Outcome test(String receiver, Person who);

    /** How an action ended. */
    sealed interface Outcome {
        /** It is on its way. */
        record Done(NoticeView notice) implements Outcome {}

        record NotFound() implements Outcome {}

        record NotAllowed(String reason) implements Outcome {}
    }
}
