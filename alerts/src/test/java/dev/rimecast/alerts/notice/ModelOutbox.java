package dev.rimecast.alerts.notice;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.notice.Delivery.Kind;
import dev.rimecast.alerts.notice.Delivery.State;
import dev.rimecast.alerts.notice.NoticeRules.Plan;
import dev.rimecast.telemetry.finding.Priority;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.UnaryOperator;

/** The outbox in memory, with receivers that remember all that arrives and look at it at once. */
final class ModelOutbox {
    private static final int MOST_ATTEMPTS = 4;
    private static final Duration LEASE = Duration.ofMinutes(2);

    private final NoticeBook book;
    private final NoticeRules rules;
    private final Map<UUID, Entry> matters = new LinkedHashMap<>();
    private final List<Entry> finished = new ArrayList<>();
    private final Set<UUID> waitedToTheEnd = new HashSet<>();
    private final Map<String, List<Arrived>> inboxes = new HashMap<>();
    private final Map<UUID, Instant> leases = new HashMap<>();
    private final Map<UUID, Instant> nextAt = new HashMap<>();
    private final List<Told> tellings = new ArrayList<>();
    private final Map<String, Integer> counts = new TreeMap<>();
    private Instant now = Instant.parse("2026-03-01T00:00:00Z");
    private long ids;

    private static final class Entry {
        Matter matter;
        Situation situation;
        List<Delivery> deliveries = new ArrayList<>();

        Entry(Matter matter, Situation situation) {
            this.matter = matter;
            this.situation = situation;
        }
    }

    private record Arrived(UUID id, UUID matter, Kind kind) {}

    private record Told(String site, UUID matter, int telling, Instant at) {}

    ModelOutbox(NoticeBook book) {
        this.book = book;
        this.rules = new NoticeRules(book);
        for (String what : List.of(
                "RAISED",
                "WORSE",
                "OVER",
                "PASSED",
                "failed",
                "repeated",
                "withdrawn",
                "crash in plan",
                "crash after send",
                "escalated",
                "released",
                "planned again",
                "asked again")) {
            counts.put(what, 0);
        }
    }

    Instant now() {
        return now;
    }

    Map<String, Integer> counts() {
        return counts;
    }

    int live() {
        return (int) matters.values().stream().filter(e -> !e.matter.isOver()).count();
    }

    void begin(String site, Situation situation) {
        UUID id = Matter.idOf(new UUID(7, ids++));
        matters.put(id, new Entry(new Matter(id, id, site, now, 0, Optional.empty(), false), situation));
    }

    /** A closed case stays closed: what comes back is another matter. */
    void change(Random random, UnaryOperator<Situation> change) {
        List<Entry> open = matters.values().stream()
                .filter(e -> !e.matter.isOver() && !e.situation.isOver())
                .toList();
        if (!open.isEmpty()) {
            Entry entry = open.get(random.nextInt(open.size()));
            entry.situation = change.apply(entry.situation);
        }
    }

    void closeAll() {
        matters.values()
                .forEach(e -> e.situation = new Situation(
                        true,
                        true,
                        false,
                        false,
                        Optional.empty(),
                        false,
                        Priority.LOW,
                        Optional.empty(),
                        false,
                        e.situation.trouble()));
    }

    /** What has come to its end is put away, as long as it says nothing about the site's week. */
    void pass(Duration time) {
        now = now.plus(time);
        matters.values().removeIf(entry -> {
            boolean isFinished = entry.matter.isOver()
                    && entry.deliveries.stream().noneMatch(Delivery::isUnderWay)
                    && entry.matter
                            .told()
                            .filter(told -> told.at().plus(book.quiet()).isAfter(now))
                            .isEmpty();
            if (isFinished) {
                finished.add(entry);
            }
            return isFinished;
        });
    }

    /** @param dies the transaction comes to nothing */
    void look(Random random, boolean dies) {
        List<Entry> open =
                matters.values().stream().filter(e -> !e.matter.isOver()).toList();
        if (open.isEmpty()) {
            return;
        }
        Entry entry = open.get(random.nextInt(open.size()));
        if (dies) {
            plan(entry);
            count("crash in plan");
        } else {
            look(entry);
        }
    }

    private Plan plan(Entry entry) {
        Optional<Instant> siteToldAt = matters.values().stream()
                .filter(e -> e.matter.site().equals(entry.matter.site()))
                .flatMap(e -> e.matter.told().map(Matter.Told::at).stream())
                .max(Instant::compareTo);
        return rules.look(entry.matter, entry.situation, List.copyOf(entry.deliveries), siteToldAt, now);
    }

    private void look(Entry entry) {
        Plan plan = plan(entry);
        checkWeek(entry, plan);
        checkAskedAgain(entry, plan);
        for (Delivery created : plan.create()) {
            assertThat(entry.deliveries).extracting(Delivery::id).doesNotContain(created.id());
            entry.deliveries.add(created);
            nextAt.put(created.id(), created.dueAt());
            if (entry.deliveries.stream()
                    .anyMatch(d -> d.state() == State.CANCELLED
                            && d.telling() == created.telling()
                            && d.route().equals(created.route())
                            && d.step() == created.step()
                            && created.kind() != Kind.OVER
                            && created.kind() != Kind.PASSED
                            && d.receiver().equals(created.receiver()))) {
                count("planned again");
            }
            if (created.step() > 0) {
                count("escalated");
            }
        }
        entry.deliveries.replaceAll(d -> {
            if (plan.cancel().contains(d.id())) {
                assertThat(d.isUntouched())
                        .as("only what has not left is withdrawn")
                        .isTrue();
                count("withdrawn");
                if (plan.matter().isOver()) {
                    waitedToTheEnd.add(d.id());
                }
                return NoticeRulesTest.as(d, State.CANCELLED, 0);
            }
            if (plan.release().contains(d.id())) {
                count("released");
                nextAt.put(d.id(), now);
                return new Delivery(
                        d.id(), d.kind(), d.telling(), d.route(), d.step(), d.receiver(), d.state(), 0, now);
            }
            return d;
        });
        entry.matter = plan.matter();
        cancelOrphans(entry);
        assertThat(plan(entry).create()).as("a second look finds nothing new").isEmpty();
    }

    /** At most one notice that needs action in a week for each site, unless its ice is at risk. */
    private void checkWeek(Entry entry, Plan plan) {
        Matter before = entry.matter;
        Matter after = plan.matter();
        if (before.told().isPresent() && after.told().isEmpty()) {
            tellings.removeIf(t -> t.matter().equals(before.id()) && t.telling() == before.telling());
        }
        if (after.telling() > before.telling()) {
            if (!entry.situation.iceAtRisk()) {
                assertThat(tellings)
                        .filteredOn(t -> t.site().equals(after.site()))
                        .as("notices of the last week for %s at %s", after.site(), now)
                        .allMatch(t -> !now.isBefore(t.at().plus(book.quiet())));
            }
            tellings.add(new Told(after.site(), after.id(), after.telling(), now));
        }
    }

    /** Nobody is told of the same at the first step once more, but where it got worse since somebody saw it, or was withdrawn. */
    private void checkAskedAgain(Entry entry, Plan plan) {
        if (plan.matter().telling() > entry.matter.telling()) {
            return;
        }
        for (Delivery created : plan.create()) {
            if (created.step() > 0 || !created.kind().tellsOfTrouble()) {
                continue;
            }
            List<Delivery> before = entry.deliveries.stream()
                    .filter(d -> d.telling() == created.telling()
                            && d.route().equals(created.route())
                            && d.step() == created.step()
                            && d.receiver().equals(created.receiver()))
                    .toList();
            boolean isWithdrawn = !before.isEmpty() && before.stream().allMatch(d -> d.state() == State.CANCELLED);
            assertThat(isWithdrawn || (entry.situation.isWorse() && entry.situation.isUnseen()))
                    .as("told once more: %s after %s", created, before)
                    .isTrue();
            if (!isWithdrawn) {
                count("asked again");
            }
        }
    }

    /** As the database does it: an end of which no beginning arrived, or ever will. */
    private static void cancelOrphans(Entry entry) {
        List<Delivery> all = List.copyOf(entry.deliveries);
        entry.deliveries.replaceAll(d -> {
            boolean isOrphan = d.kind() == Kind.OVER
                    && d.state() == State.WAITING
                    && all.stream()
                            .noneMatch(o -> o.receiver().equals(d.receiver())
                                    && (o.kind() == Kind.RAISED || o.kind() == Kind.WORSE)
                                    && (o.isUnderWay() || o.state() == State.SENT));
            return isOrphan ? NoticeRulesTest.as(d, State.CANCELLED, d.attempts()) : d;
        });
    }

    /** One notice that may leave goes; it arrives, or not, or it is not known. */
    void send(Random random) {
        List<Entry> ready =
                matters.values().stream().filter(e -> next(e).isPresent()).toList();
        if (ready.isEmpty()) {
            return;
        }
        Entry entry = ready.get(random.nextInt(ready.size()));
        Delivery delivery = next(entry).orElseThrow();
        int attempts = delivery.attempts() + 1;
        int fate = random.nextInt(10);
        if (fate < 8) {
            arrive(entry, delivery);
        }
        if (fate == 7) {
            count("crash after send");
            set(entry, delivery, State.SENDING, attempts);
            leases.put(delivery.id(), now.plus(LEASE));
        } else if (fate < 6) {
            set(entry, delivery, State.SENT, attempts);
        } else if (attempts >= MOST_ATTEMPTS) {
            count("failed");
            set(entry, delivery, State.FAILED, attempts);
        } else {
            set(entry, delivery, State.WAITING, attempts);
            nextAt.put(delivery.id(), now.plus(Duration.ofMinutes(1L << (2 * attempts))));
        }
        cancelOrphans(entry);
    }

    private Optional<Delivery> next(Entry entry) {
        return entry.deliveries.stream()
                .filter(d -> d.state() == State.WAITING
                        ? !now.isBefore(nextAt.getOrDefault(d.id(), now))
                        : d.state() == State.SENDING && !now.isBefore(leases.getOrDefault(d.id(), now)))
                .filter(d -> d.isItsTurn(entry.deliveries))
                .findFirst();
    }

    private void set(Entry entry, Delivery delivery, State state, int attempts) {
        assertThat(RandomNoticesTest.isLegal(delivery.state(), state)).isTrue();
        entry.deliveries.replaceAll(d -> d.id().equals(delivery.id()) ? NoticeRulesTest.as(d, state, attempts) : d);
    }

    private void arrive(Entry entry, Delivery delivery) {
        List<Arrived> inbox = inboxes.computeIfAbsent(delivery.receiver(), r -> new ArrayList<>());
        Arrived arrived = new Arrived(delivery.id(), entry.matter.id(), delivery.kind());
        List<Arrived> same =
                inbox.stream().filter(a -> a.matter().equals(arrived.matter())).toList();
        if (same.stream().anyMatch(a -> a.id().equals(arrived.id()))) {
            assertThat(same).as("a repeat says the same").contains(arrived);
            count("repeated");
            return;
        }
        count(delivery.kind().name());
        boolean isEnd = delivery.kind() == Kind.OVER || delivery.kind() == Kind.PASSED;
        assertThat(same)
                .as("nothing new after its end, and one end")
                .noneMatch(a -> a.kind() == Kind.OVER || a.kind() == Kind.PASSED);
        if (delivery.kind() == Kind.OVER) {
            assertThat(same).as("an end after a beginning").isNotEmpty();
        }
        assertThat(isEnd).as("an end is of what is over").isEqualTo(isEnd && entry.matter.isOver());
        inbox.add(arrived);
    }

    private void count(String what) {
        counts.merge(what, 1, Integer::sum);
    }

    /** Every receiver is well again, and time passes. */
    void drain() {
        for (int round = 0; round < 2_000; round++) {
            now = now.plus(Duration.ofHours(1));
            matters.values().stream().filter(e -> !e.matter.isOver()).forEach(this::look);
            for (Entry entry : matters.values()) {
                Optional<Delivery> next = next(entry);
                if (next.isPresent()) {
                    arrive(entry, next.get());
                    set(entry, next.get(), State.SENT, next.get().attempts() + 1);
                    cancelOrphans(entry);
                }
            }
        }
    }

    void assertNothingIsLost() {
        finished.addAll(matters.values());
        for (Entry entry : finished) {
            assertThat(entry.matter.isOver()).isTrue();
            assertThat(entry.deliveries).noneMatch(Delivery::isUnderWay);
            for (String receiver : book.receivers().keySet()) {
                assertToldWhole(entry, receiver);
            }
        }
    }

    private void assertToldWhole(Entry entry, String receiver) {
        List<Delivery> own = entry.deliveries.stream()
                .filter(d -> d.receiver().equals(receiver))
                .toList();
        List<Delivery> begun = own.stream()
                .filter(d -> d.kind() == Kind.RAISED || d.kind() == Kind.WORSE)
                .toList();
        boolean knows = begun.stream().anyMatch(d -> d.state() == State.SENT);
        boolean isGivenUp = own.stream().anyMatch(d -> d.state() == State.FAILED);
        long ends = own.stream()
                .filter(d -> d.kind() == Kind.OVER && d.state() == State.SENT)
                .count();
        boolean tellsEnd = !receiver.equals("log"); // its route has tell-end: false
        if (knows && !isGivenUp) {
            assertThat(ends).as("who knows is told the end once: %s", own).isEqualTo(tellsEnd ? 1 : 0);
        }
        boolean wasUrgent = entry.matter
                .told()
                .filter(told -> told.priority().compareTo(Priority.HIGH) <= 0 || told.iceAtRisk())
                .isPresent();
        boolean knewNothing = begun.stream().noneMatch(d -> d.state() == State.SENT)
                && begun.stream().anyMatch(d -> waitedToTheEnd.contains(d.id()));
        if (wasUrgent && knewNothing && !isGivenUp) {
            assertThat(own).as("what needed action is told even if it passed").anyMatch(d -> d.kind() == Kind.PASSED);
        }
    }
}
