package dev.rimecast.alerts.consume;

import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;

/** What does not work at the moment, by part. Nothing in it means that all works. */
public final class StageHealth {
    private final Map<String, String> problems = new ConcurrentHashMap<>();

    public void works(String part) {
        problems.remove(part);
    }

    public void fails(String part, String problem) {
        problems.put(part, problem);
    }

    /** Part and problem, in the order of the names. */
    public Map<String, String> problems() {
        return new TreeMap<>(problems);
    }

    public Optional<String> problemOf(String part) {
        return Optional.ofNullable(problems.get(part));
    }
}
