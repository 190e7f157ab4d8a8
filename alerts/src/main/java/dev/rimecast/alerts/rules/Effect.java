package dev.rimecast.alerts.rules;

import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import java.util.List;
import java.util.UUID;

/**
 * What a priority book would make of the alerts that are there.
 *
 * @param judged how many alerts were looked at
 * @param changes those that would get another priority
 */
public record Effect(int judged, List<Change> changes) {

    /** @param why the rule's words; empty where detection's own priority would stand */
    public record Change(
            UUID alert, String machine, String siteName, Condition condition, Priority from, Priority to, String why) {}

    public Effect {
        changes = List.copyOf(changes);
    }
}
