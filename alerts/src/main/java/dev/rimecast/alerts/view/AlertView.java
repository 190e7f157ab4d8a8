package dev.rimecast.alerts.view;

import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Priority;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * An alert as a person sees it.
 *
 * @param finding the latest revision, with detection's own priority
 * @param priority as the rules decided
 * @param priorityWhy the rule in words; empty where detection's own priority stands
 * @param ice what the site's ice clock says, for alerts that have to do with it
 * @param silence which silence it is, in words, for an alert about one
 * @param version counts every change; sent back with an action so that two people acting at once are noticed
 * @param assignee who has it
 * @param hold what keeps it from counting, where something does
 * @param caseId the case that it is part of; none for planned care
 * @param advice what to do about the most probable cause, or about the condition where no cause can be told
 */
public record AlertView(
        Finding finding,
        Priority priority,
        String priorityWhy,
        Optional<SiteIce> ice,
        Optional<String> silence,
        String siteName,
        AlertState state,
        long version,
        Optional<Instant> clearedAt,
        Optional<String> acknowledgedBy,
        Optional<Instant> acknowledgedAt,
        Optional<String> assignee,
        Optional<Hold> hold,
        Optional<UUID> caseId,
        Advice advice,
        List<AuditLine> audit) {

    /** Who did what, when and why. */
    public record AuditLine(Instant at, String who, String what, String why) {}
}
