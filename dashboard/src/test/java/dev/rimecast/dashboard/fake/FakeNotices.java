package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.view.NoticeView;
import dev.rimecast.alerts.view.Notices;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.ReceiverView;
import dev.rimecast.alerts.view.SiteScope;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Notices in memory: one of each state. */
final class FakeNotices implements Notices {
    private static final String TEXT = "Nothing is wrong here.\n\nSite: Harbour Bar\nMachine: ice-0003\n";

    private final List<NoticeView> notices = new ArrayList<>();
    private final List<ReceiverView> receivers;

    private FakeNotices(List<ReceiverView> receivers) {
        this.receivers = receivers;
    }

    static FakeNotices empty() {
        return new FakeNotices(List.of());
    }

    /** @param site of those that are about one */
    static FakeNotices small(Instant now, String site) {
        FakeNotices fake = new FakeNotices(List.of(
                new ReceiverView(
                        "desk",
                        "mail",
                        "desk@firm.example",
                        Optional.of("Mon 07:00–18:00 (Europe/London)"),
                        Optional.empty()),
                new ReceiverView(
                        "tickets",
                        "webhook",
                        "https://tickets.example/in",
                        Optional.empty(),
                        Optional.of("answered 410: it wants no more notices")),
                new ReceiverView(
                        "manager", "outbox-only", "kept here, sent nowhere", Optional.empty(), Optional.empty())));
        fake.add("digest", Optional.empty(), "manager", "outbox-only", "sent", now.minus(Duration.ofHours(3)));
        fake.add("raised", Optional.of(site), "desk", "mail", "sent", now.minus(Duration.ofHours(2)));
        fake.add("raised", Optional.of(site), "tickets", "webhook", "failed", now.minus(Duration.ofHours(2)));
        fake.add("over", Optional.of(site), "desk", "mail", "waiting", now.minus(Duration.ofHours(1)));
        return fake;
    }

    private NoticeView add(
            String kind, Optional<String> site, String receiver, String channel, String state, Instant at) {
        boolean waits = state.equals("waiting");
        NoticeView notice = new NoticeView(
                new UUID(77, notices.size()),
                kind,
                site,
                site.map(s -> new UUID(78, 1)),
                kind.equals("test") ? "" : "main",
                0,
                receiver,
                channel,
                "somewhere@firm.example",
                state,
                waits ? 0 : 1,
                at,
                waits ? Optional.of(at.plusSeconds(60)) : Optional.empty(),
                waits ? Optional.empty() : Optional.of(at),
                state.equals("failed") ? "answered 410: it wants no more notices" : "",
                waits ? Optional.empty() : Optional.of("What it is about, " + kind),
                Optional.of(TEXT),
                List.of(new NoticeView.Attempt(at, "notices", state, "")));
        notices.add(0, notice);
        return notice;
    }

    private static NoticeView withState(NoticeView n, String state, boolean isWhole) {
        return new NoticeView(
                n.id(),
                n.kind(),
                n.site(),
                n.caseId(),
                n.route(),
                n.step(),
                n.receiver(),
                n.channel(),
                n.target(),
                state,
                n.attempts(),
                n.createdAt(),
                n.nextAt(),
                n.endedAt(),
                n.detail(),
                n.subject(),
                isWhole ? n.text() : Optional.empty(),
                isWhole ? n.log() : List.of());
    }

    @Override
    public List<NoticeView> list(SiteScope sites, Optional<UUID> after, int limit) {
        return notices.stream()
                .skip(after.map(id -> 1L
                                + notices.stream()
                                        .takeWhile(n -> !n.id().equals(id))
                                        .count())
                        .orElse(0L))
                .filter(n -> n.site().map(sites::includes).orElse(sites.isEvery()))
                .limit(limit)
                .map(n -> withState(n, n.state(), false))
                .toList();
    }

    @Override
    public Optional<NoticeView> notice(UUID id) {
        return notices.stream().filter(n -> n.id().equals(id)).findFirst();
    }

    @Override
    public List<ReceiverView> receivers() {
        return receivers;
    }

    @Override
    public Outcome retry(UUID id, Person who) {
        Optional<NoticeView> found = notice(id);
        if (found.isEmpty()) {
            return new Outcome.NotFound();
        }
        if (!found.get().state().equals("failed")) {
            return new Outcome.NotAllowed(
                    "it was not given up: it is " + found.get().state());
        }
        NoticeView waiting = withState(found.get(), "waiting", true);
        notices.replaceAll(n -> n.id().equals(id) ? waiting : n);
        return new Outcome.Done(waiting);
    }

    @Override
    public Outcome test(String receiver, Person who) {
        return receivers.stream()
                .filter(r -> r.name().equals(receiver))
                .findFirst()
                .<Outcome>map(r -> new Outcome.Done(
                        add("test", Optional.empty(), r.name(), r.channel(), "waiting", Instant.EPOCH.plusSeconds(1))))
                .orElseGet(Outcome.NotFound::new);
    }
}
