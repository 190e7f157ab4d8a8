package dev.rimecast.alerts.rules;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** In memory, for tests and for looking at pages. Keeps the same contract as the database. */
public final class MemoryRuleStore implements RuleStore {
    private final List<RuleVersion> all = new ArrayList<>();

    @Override
    public synchronized List<RuleVersion> versions(Book book) {
        return all.stream()
                .filter(version -> version.book() == book)
                .sorted(Comparator.comparing(RuleVersion::version).reversed())
                .toList();
    }

    @Override
    public synchronized Optional<RuleVersion> version(Book book, int version) {
        return versions(book).stream().filter(v -> v.version() == version).findFirst();
    }

    @Override
    public synchronized Map<Book, Integer> newest() {
        Map<Book, Integer> newest = new EnumMap<>(Book.class);
        all.forEach(version -> newest.merge(version.book(), version.version(), Math::max));
        return newest;
    }

    @Override
    public synchronized boolean append(RuleVersion next) {
        return next.version() == 1 + newest().getOrDefault(next.book(), 0) && all.add(next);
    }
}
