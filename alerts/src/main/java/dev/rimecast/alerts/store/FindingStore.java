package dev.rimecast.alerts.store;

import dev.rimecast.alerts.life.AlertLife;
import dev.rimecast.alerts.life.Circumstance;
import dev.rimecast.alerts.life.Episode;
import dev.rimecast.alerts.life.EpisodeRules;
import dev.rimecast.alerts.life.EpisodeRules.Verdict;
import dev.rimecast.alerts.life.LifeBook;
import dev.rimecast.alerts.life.Severity;
import dev.rimecast.alerts.life.Standing;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.CircumstanceQuery.Subject;
import dev.rimecast.alerts.store.Prioritiser.Decided;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.FindingJson;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import org.jdbi.v3.core.Handle;

/** Takes findings in. The same or an older revision changes nothing, so a log can be read again from anywhere. */
public final class FindingStore {
    /** What is older than this when it comes is recorded, not notified. */
    static final Duration STALE_AFTER = Duration.ofHours(1);

    private final BooksInForce books;
    private final Suppressor suppressor;
    private final CaseStore cases;
    private final Prioritiser prioritiser;

    public FindingStore(BooksInForce books) {
        this.books = books;
        this.suppressor = new Suppressor(books);
        this.cases = new CaseStore(books);
        this.prioritiser = new Prioritiser(books);
    }

    /**
     * The caller holds the lock of the finding's site ({@link SiteLocks}).
     *
     * @param now by the wall
     * @return whether anything changed
     */
    public boolean receive(Handle handle, Finding received, Instant now) {
        List<StoredAlert> rows = handle.createQuery("select " + StoredAlert.COLUMNS + " from alert a where a.id = :id"
                        + " or (a.subject = :subject and a.condition = :condition and a.state <> 'normal')"
                        + " for update")
                .bind("id", received.id())
                .bind("subject", EpisodeRules.subjectOf(received))
                .bind("condition", received.condition().code())
                .map((row, context) -> StoredAlert.of(row))
                .list();
        Optional<StoredAlert> known = rows.stream()
                .filter(row -> row.finding().id().equals(received.id()))
                .findFirst();
        Optional<StoredAlert> open = rows.stream()
                .filter(row -> !row.finding().id().equals(received.id()))
                .findFirst();
        if (known.filter(k -> received.revision() <= k.finding().revision()).isPresent()) {
            return false;
        }
        Finding finding = known.map(StoredAlert::finding)
                .map(before -> received.withWordsOf(before).withGroundsOf(before))
                .orElse(received);
        Decided decided = prioritiser.decide(handle, finding, now);
        Severity severity = new Severity(finding.stage(), decided.priority());
        Verdict verdict = EpisodeRules.receive(
                known.map(StoredAlert::episode),
                open.map(StoredAlert::episode),
                finding,
                severity,
                standing(handle, finding, now));
        if (!(verdict instanceof Verdict.Applied applied)) {
            return false;
        }
        // The earlier one first: the index allows one open alert at any moment.
        applied.ended().ifPresent(ended -> supersede(handle, ended, finding));
        write(handle, known, applied.next(), finding, decided, now);
        keepRevision(handle, finding);
        audit(handle, known, applied.next(), finding, decided);
        if (applied.next().isOpen()) {
            cases.place(handle, finding, applied.ended().map(Episode::id));
        }
        // Only now, so that a case that passes to the successor is not closed in between.
        applied.ended()
                .ifPresent(ended -> AlertChanges.event(
                        handle,
                        ended.id(),
                        finding.raisedAt(),
                        AuditTrail.DETECTION,
                        "superseded",
                        "Raised anew as " + finding.id() + '.'));
        if (applied.next().life() instanceof AlertLife.ReturnedUnacknowledged over) {
            SeenBySite.refresh(handle, finding, over);
        }
        return true;
    }

    private Standing standing(Handle handle, Finding finding, Instant now) {
        LifeBook book = books.life();
        Condition condition = finding.condition();
        String subject = EpisodeRules.subjectOf(finding);
        if (finding.step() == Step.CLEARED) {
            suppressor.end(handle, subject, condition, now);
        } else if (book.suppressible().contains(condition)) {
            Set<Circumstance> known = CircumstanceQuery.of(handle, new Subject(subject, finding.site()), now);
            suppressor.refresh(handle, subject, finding.site(), condition, known, now);
        }
        return new Standing(
                book.latches(condition),
                HoldStore.of(handle, subject, condition.code()).stream()
                        .findFirst()
                        .map(Hold::kind));
    }

    private static void write(
            Handle handle, Optional<StoredAlert> known, Episode next, Finding finding, Decided decided, Instant now) {
        Instant since = known.filter(k -> k.finding().stage() == finding.stage() && k.priority() == decided.priority())
                .map(StoredAlert::severitySince)
                .orElse(finding.at());
        Optional<Severity> seen = StoredAlert.seen(next.life());
        boolean raisedAgain = next.life().state() == AlertState.UNACKNOWLEDGED;
        handle.createUpdate("""
                insert into alert (id, subject, machine, gateway, site, condition, revision, stage, priority, raised_at,
                    changed_at, cleared_at, severity_since, limit_early, act_by, state, seen_stage, seen_priority,
                    superseded_by, version, announced, finding, priority_why, ice_out_at)
                values (:id, :subject, :machine, :gateway, :site, :condition, :revision, :stage, :priority, :raisedAt,
                    :changedAt, :clearedAt, :since, :limitEarly, :actBy, :state, :seenStage, :seenPriority,
                    :supersededBy, 1, :announced, cast(:finding as jsonb), :priorityWhy, :iceOut)
                on conflict (id) do update set
                    site = excluded.site, revision = excluded.revision, stage = excluded.stage,
                    priority = excluded.priority, changed_at = excluded.changed_at, cleared_at = excluded.cleared_at,
                    severity_since = excluded.severity_since, limit_early = excluded.limit_early,
                    act_by = excluded.act_by, state = excluded.state, seen_stage = excluded.seen_stage,
                    seen_priority = excluded.seen_priority, superseded_by = excluded.superseded_by,
                    version = alert.version + 1, finding = excluded.finding,
                    priority_why = excluded.priority_why, ice_out_at = excluded.ice_out_at,
                    acknowledged_by = case when :raisedAgain then null else alert.acknowledged_by end,
                    acknowledged_at = case when :raisedAgain then null else alert.acknowledged_at end""")
                .bind("id", next.id())
                .bind("subject", next.subject())
                .bind("machine", finding.machine())
                .bind("gateway", finding.gateway())
                .bind("site", finding.site())
                .bind("condition", finding.condition().code())
                .bind("revision", next.revision())
                .bind("stage", finding.stage().code())
                .bind("priority", decided.priority().code())
                .bind("priorityWhy", decided.why())
                .bind("iceOut", decided.iceOut())
                .bind("raisedAt", finding.raisedAt())
                .bind("changedAt", finding.at())
                .bind("clearedAt", clearedAt(known, next, finding))
                .bind("since", since)
                .bind("limitEarly", finding.limit().map(Finding.LimitExpected::early))
                .bind("actBy", decided.actBy(finding, since))
                .bind("state", next.life().state().code())
                .bind("seenStage", seen.map(s -> s.stage().code()))
                .bind("seenPriority", seen.map(s -> s.priority().code()))
                .bind("supersededBy", next.supersededBy())
                .bind("announced", !finding.raisedAt().isBefore(now.minus(STALE_AFTER)))
                .bind("finding", new String(FindingJson.encode(finding), StandardCharsets.UTF_8))
                .bind("raisedAgain", raisedAgain)
                .execute();
    }

    private static Optional<Instant> clearedAt(Optional<StoredAlert> known, Episode next, Finding finding) {
        if (finding.step() == Step.CLEARED) {
            return Optional.of(finding.at());
        }
        // An episode that a later one has ended stays over, whatever else comes about it.
        return next.supersededBy().isPresent()
                ? Optional.of(known.flatMap(StoredAlert::clearedAt).orElse(finding.at()))
                : Optional.empty();
    }

    private static void supersede(Handle handle, Episode ended, Finding successor) {
        handle.createUpdate("""
                update alert set state = 'normal', seen_stage = null, seen_priority = null, superseded_by = :successor,
                    cleared_at = coalesce(cleared_at, :at), version = version + 1
                where id = :id""")
                .bind("id", ended.id())
                .bind("successor", successor.id())
                .bind("at", successor.raisedAt())
                .execute();
        AuditTrail.append(
                handle,
                ended.id(),
                successor.raisedAt(),
                AuditTrail.DETECTION,
                "superseded",
                "Raised anew as " + successor.id() + '.');
    }

    private static void keepRevision(Handle handle, Finding finding) {
        handle.createUpdate("""
                insert into finding_revision (alert, revision, step, at, finding)
                values (:alert, :revision, :step, :at, cast(:finding as jsonb)) on conflict do nothing""")
                .bind("alert", finding.id())
                .bind("revision", finding.revision())
                .bind("step", finding.step().name().toLowerCase(Locale.ROOT))
                .bind("at", finding.at())
                .bind("finding", new String(FindingJson.encode(finding), StandardCharsets.UTF_8))
                .execute();
    }

    /** Only what a person would call a change: a state, a stage, a priority. */
    private static void audit(
            Handle handle, Optional<StoredAlert> known, Episode next, Finding finding, Decided decided) {
        AlertState before = known.map(k -> k.life().state()).orElse(AlertState.NORMAL);
        AlertState after = next.life().state();
        boolean sameSeverity = known.filter(
                        k -> k.finding().stage() == finding.stage() && k.priority() == decided.priority())
                .isPresent();
        if (before == after && sameSeverity) {
            known.filter(k -> AlertTopic.isAnotherCause(k.finding(), finding))
                    .ifPresent(k -> AlertTopic.tell(
                            handle,
                            finding.id(),
                            finding.at(),
                            AuditTrail.DETECTION,
                            "cause changed",
                            finding.summary()));
            return;
        }
        String what = what(before, after, known.isEmpty(), next.supersededBy().isPresent());
        String why = finding.stage().code() + ", " + decided.priority().code() + ": " + finding.summary()
                + (decided.why().isEmpty() ? "" : " " + decided.why());
        AuditTrail.append(handle, finding.id(), finding.at(), AuditTrail.DETECTION, what, why);
        AlertChanges.event(handle, finding.id(), finding.at(), AuditTrail.DETECTION, what, why);
    }

    private static String what(AlertState before, AlertState after, boolean first, boolean superseded) {
        return switch (after) {
            case UNACKNOWLEDGED -> before == AlertState.UNACKNOWLEDGED ? "changed" : first ? "raised" : "raised again";
            case ACKNOWLEDGED -> "changed";
            case SHELVED, SUPPRESSED_BY_DESIGN, OUT_OF_SERVICE ->
                before == after ? "changed" : "raised while " + after.code();
            case LATCHED_UNACKNOWLEDGED, LATCHED_ACKNOWLEDGED -> "latched";
            case RETURNED_UNACKNOWLEDGED, NORMAL -> superseded ? "superseded" : "returned to normal";
        };
    }
}
