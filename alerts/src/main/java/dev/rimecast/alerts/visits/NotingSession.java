package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.visits.VisitStore.Reported;
import dev.rimecast.alerts.visits.VisitStore.Session;
import dev.rimecast.alerts.visits.VisitStore.Written;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/** Notes the sites of what is written. */
record NotingSession(Session session, Set<String> sites) implements Session {
    @Override
    public List<Visit> open() {
        return session.open();
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
        visits.forEach(each -> sites.add(each.visit().site()));
        session.write(visits);
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
