package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.view.AlertView.AuditLine;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits.Filter;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.Function;

/** In memory, for tests and for looking at pages. Keeps the same contract as the database. */
public final class MemoryVisitStore implements VisitStore {
    private final Map<UUID, Visit> visits = new TreeMap<>();
    private final Map<UUID, List<AuditLine>> history = new HashMap<>();

    @Override
    public synchronized <T> T change(Function<Session, T> work) {
        return work.apply(new MemorySession(visits, false));
    }

    @Override
    public <T> T look(Function<Session, T> work) {
        return work.apply(new MemorySession(asNow(), true));
    }

    private synchronized Map<UUID, Visit> asNow() {
        return new TreeMap<>(visits);
    }

    @Override
    public synchronized List<Visit> list(SiteScope sites, Filter filter) {
        return visits.values().stream()
                .filter(visit -> sites.includes(visit.site()))
                .filter(visit -> filter.states().isEmpty() || filter.states().contains(visit.state()))
                .filter(visit -> filter.from().filter(visit.day()::isBefore).isEmpty())
                .filter(visit -> filter.to().filter(visit.day()::isAfter).isEmpty())
                .filter(visit ->
                        filter.site().filter(site -> !site.equals(visit.site())).isEmpty())
                .filter(visit -> filter.engineer()
                        .filter(name -> !name.equals(visit.engineer()))
                        .isEmpty())
                .sorted(Visit.BY_TIME)
                .toList();
    }

    @Override
    public synchronized Optional<Visit> find(UUID id) {
        return Optional.ofNullable(visits.get(id));
    }

    @Override
    public synchronized Map<UUID, List<AuditLine>> history(Collection<UUID> ids) {
        Map<UUID, List<AuditLine>> lines = new HashMap<>();
        ids.forEach(id -> lines.put(id, List.copyOf(history.getOrDefault(id, List.of()))));
        return lines;
    }

    private final class MemorySession implements Session {
        private final Map<UUID, Visit> seen;
        private final boolean isReadOnly;

        MemorySession(Map<UUID, Visit> seen, boolean isReadOnly) {
            this.seen = seen;
            this.isReadOnly = isReadOnly;
        }

        @Override
        public List<Visit> open() {
            return seen.values().stream()
                    .filter(visit -> visit.state().isOpen())
                    .sorted(Visit.BY_ID)
                    .toList();
        }

        @Override
        public Optional<Visit> find(UUID id) {
            return Optional.ofNullable(seen.get(id));
        }

        @Override
        public List<Visit> doneSince(Instant from) {
            return seen.values().stream()
                    .filter(visit ->
                            visit.state() == State.DONE && !visit.changedAt().isBefore(from))
                    .toList();
        }

        @Override
        public void write(List<Written> all) {
            if (isReadOnly) {
                throw new IllegalStateException("who looks can't write");
            }
            Map<UUID, Visit> after = new TreeMap<>(visits);
            all.forEach(each -> after.put(each.visit().id(), each.visit()));
            Set<String> needs = new HashSet<>();
            after.values().stream()
                    .filter(visit -> visit.state().isOpen())
                    .flatMap(visit -> visit.needs().stream())
                    .forEach(planned -> {
                        if (!needs.add(planned.need().id())) {
                            throw new IllegalStateException(planned.need().id() + " is on two visits that are open");
                        }
                    });
            visits.putAll(after);
            all.forEach(each -> each.line()
                    .ifPresent(line -> history.computeIfAbsent(each.visit().id(), id -> new ArrayList<>())
                            .add(line)));
        }

        @Override
        public Map<UUID, Reported> worked(Collection<UUID> ids) {
            return Map.of();
        }

        @Override
        public Optional<Reported> reported(String site, Collection<String> machines, Instant from) {
            return Optional.empty();
        }
    }
}
