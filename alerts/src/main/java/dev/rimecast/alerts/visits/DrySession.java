package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.visits.VisitStore.Reported;
import dev.rimecast.alerts.visits.VisitStore.Session;
import dev.rimecast.alerts.visits.VisitStore.Written;
import dev.rimecast.alerts.visits.plan.Waiting;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Stream;

/** What planning would do if one more visit was there; nothing of it is kept. */
final class DrySession implements Session {
    private final Session session;
    private final Visit asked;
    private final Map<UUID, Visit> after = new TreeMap<>();
    private List<Waiting> waiting = List.of();

    DrySession(Session session, Visit asked) {
        this.session = session;
        this.asked = asked;
        session.open().forEach(visit -> after.put(visit.id(), visit));
        after.put(asked.id(), asked);
    }

    /** With what planning would give to it. */
    Visit draft() {
        return after.getOrDefault(asked.id(), asked);
    }

    /** What would be open besides it at its site, by day. */
    List<Visit> otherVisits() {
        return after.values().stream()
                .filter(visit ->
                        visit.site().equals(asked.site()) && !visit.id().equals(asked.id()))
                .filter(visit -> visit.state().isOpen())
                .sorted(Visit.BY_TIME)
                .toList();
    }

    void waits(List<Waiting> all) {
        waiting = List.copyOf(all);
    }

    /** What would be on no visit to its site. */
    List<Waiting> waiting() {
        return waiting.stream()
                .filter(each -> each.need().site().equals(asked.site()))
                .toList();
    }

    @Override
    public List<Visit> open() {
        return Stream.concat(session.open().stream(), Stream.of(asked))
                .sorted(Visit.BY_ID)
                .toList();
    }

    @Override
    public Optional<Visit> find(UUID id) {
        return session.find(id);
    }

    @Override
    public List<Visit> doneSince(Instant from) {
        return session.doneSince(from);
    }

    @Override
    public void write(List<Written> visits) {
        visits.forEach(each -> after.put(each.visit().id(), each.visit()));
    }

    @Override
    public Map<UUID, Reported> worked(Collection<UUID> visits) {
        return session.worked(visits);
    }

    @Override
    public Optional<Reported> reported(String site, Collection<String> machines, Instant from) {
        return session.reported(site, machines, from);
    }
}
