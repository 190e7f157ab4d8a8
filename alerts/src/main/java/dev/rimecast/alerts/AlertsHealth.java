package dev.rimecast.alerts;

import java.util.Map;

/**
 * How the stage is.
 *
 * @param problems part of the stage and what is wrong with it; empty when all works
 */
public record AlertsHealth(Map<String, String> problems) {

    public AlertsHealth {
        problems = Map.copyOf(problems);
    }

    /** Whether it takes findings in and answers the pages; what else does not work can wait. */
    public boolean takesWork() {
        return problems.keySet().stream().noneMatch(part -> part.equals("database") || part.startsWith("topic "));
    }

    public boolean isUp() {
        return problems.isEmpty();
    }
}
