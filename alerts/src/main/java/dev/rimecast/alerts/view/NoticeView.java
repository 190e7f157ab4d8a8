package dev.rimecast.alerts.view;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * A notice to one receiver.
 *
 * @param kind raised, worse, over, passed, digest, test or link
 * @param site empty for a digest and a test
 * @param route name of the route or digest; empty for a test
 * @param channel mail, webhook or outbox-only
 * @param target where to, without secrets
 * @param state waiting, sending, sent, failed or cancelled
 * @param nextAt when it is tried, while it waits
 * @param detail how the last attempt ended, or why it was not sent
 * @param subject its first line; absent until it leaves
 * @param text the whole of it, where one notice was asked for
 * @param log every attempt, where one notice was asked for
 */
public record NoticeView(
        UUID id,
        String kind,
        Optional<String> site,
        Optional<UUID> caseId,
        String route,
        int step,
        String receiver,
        String channel,
        String target,
        String state,
        int attempts,
        Instant createdAt,
        Optional<Instant> nextAt,
        Optional<Instant> endedAt,
        String detail,
        Optional<String> subject,
        Optional<String> text,
        List<Attempt> log) {

    /** One attempt, or what a person did. */
    public record Attempt(Instant at, String who, String outcome, String detail) {}

    public NoticeView {
        log = List.copyOf(log);
    }
}
