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

    public boolean isUp() {
        return problems.isEmpty();
    }
}
