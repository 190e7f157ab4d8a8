package dev.rimecast.alerts.visits.plan;

/**
 * A need on a trip.
 *
 * @param problem what it does not meet, and why; empty where it is in time
 */
public record Planned(Need need, String problem) {}
