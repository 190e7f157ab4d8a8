package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.NoticeView;
import dev.rimecast.alerts.view.ReceiverView;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * A notice to one receiver.
 *
 * @param caseId left out for a digest and a test
 * @param step counts from 1; more than 1 where nobody acknowledged
 * @param nextAt left out where nothing is tried any more
 * @param text only where one notice was asked for
 * @param log only where one notice was asked for
 */
public record NoticeJson(
        UUID id,
        String kind,
        Optional<String> site,
        Optional<UUID> caseId,
        Optional<String> route,
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
        Optional<List<AttemptJson>> log) {

    /** One attempt, or what a person did. */
    public record AttemptJson(Instant at, String who, String outcome, String detail) {}

    /** Somebody who is told. */
    public record ReceiverJson(
            String name, String channel, String target, Optional<String> hours, Optional<String> closed) {

        public static ReceiverJson of(ReceiverView view) {
            return new ReceiverJson(view.name(), view.channel(), view.target(), view.hours(), view.closed());
        }
    }

    public static NoticeJson of(NoticeView view) {
        return new NoticeJson(
                view.id(),
                view.kind(),
                view.site(),
                view.caseId(),
                Optional.of(view.route()).filter(route -> !route.isEmpty()),
                view.step() + 1,
                view.receiver(),
                view.channel(),
                view.target(),
                view.state(),
                view.attempts(),
                view.createdAt(),
                view.nextAt(),
                view.endedAt(),
                view.detail(),
                view.subject(),
                view.text(),
                view.text().isEmpty() && view.log().isEmpty()
                        ? Optional.empty()
                        : Optional.of(view.log().stream()
                                .map(line -> new AttemptJson(line.at(), line.who(), line.outcome(), line.detail()))
                                .toList()));
    }
}
