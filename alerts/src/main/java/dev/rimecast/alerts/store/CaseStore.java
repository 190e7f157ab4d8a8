package dev.rimecast.alerts.store;

import dev.rimecast.alerts.cases.CaseKey;
import dev.rimecast.alerts.cases.CaseRules;
import dev.rimecast.alerts.cases.CaseRules.Placement;
import dev.rimecast.alerts.cases.Member;
import dev.rimecast.alerts.cases.OpenCase;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.time.Instant;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/**
 * Puts alerts and calls into cases. The caller holds the site's lock.
 *
 * <p>Every open alert that is no planned care is in a case that is open; a case is closed when none of its alerts is
 * open, and for a call without alerts when a person closes it.
 */
public final class CaseStore {
    private final BooksInForce books;

    public CaseStore(BooksInForce books) {
        this.books = books;
    }

    /**
     * Puts an alert, just written, into its case.
     *
     * @param heir whose case it takes over: the alert that it superseded
     */
    void place(Handle handle, Finding finding, Optional<UUID> heir) {
        if (finding.condition().isCare()) {
            return;
        }
        Optional<UUID> now = CaseQuery.caseOf(handle, finding.id());
        Optional<OpenCase> current = now.or(() -> heir.flatMap(ended -> CaseQuery.caseOf(handle, ended)))
                .flatMap(id -> CaseQuery.find(handle, id));
        List<OpenCase> open = CaseQuery.open(handle, finding.site());
        Optional<String> placedBy = now.isPresent()
                ? CaseChoices.placedBy(handle, finding.id())
                : heir.flatMap(ended -> CaseChoices.placedBy(handle, ended));
        Placement placement =
                new CaseRules(books.cases()).place(member(handle, finding), current, placedBy.isPresent(), open);
        if (placement.opens()) {
            open(handle, placement.id(), finding.site(), placement.key(), placement.cause(), finding.raisedAt());
        }
        if (!now.equals(Optional.of(placement.id()))) {
            move(handle, finding, now, placement);
            placedBy.ifPresent(who -> CaseChoices.keep(handle, finding.id(), who));
        } else if (placement.cause().isPresent()
                && current.filter(c -> c.cause().isEmpty()).isPresent()) {
            nameCause(handle, placement);
        }
    }

    static void open(Handle handle, UUID id, String site, CaseKey key, Optional<Cause> cause, Instant at) {
        Optional<CaseKey.OfPlace> place = key instanceof CaseKey.OfPlace p ? Optional.of(p) : Optional.empty();
        handle.createUpdate("""
                insert into alert_case (id, site, subject, common, place, cause, opened_at, latest_at, version, announced)
                values (:id, :site, :subject, :common, :place, :cause, :at, :at, 0, false)
                on conflict (id) do update set closed_at = null, merged_into = null""")
                .bind("id", id)
                .bind("site", site)
                .bind("subject", key instanceof CaseKey.OfSubject s ? Optional.of(s.subject()) : Optional.empty())
                .bind("common", place.map(CaseKey.OfPlace::common))
                .bind("place", place.map(CaseKey.OfPlace::place))
                .bind("cause", cause.map(Cause::code))
                .bind("at", at)
                .execute();
    }

    private static void move(Handle handle, Finding finding, Optional<UUID> from, Placement to) {
        handle.createUpdate("update alert set case_id = :to where id = :alert")
                .bind("to", to.id())
                .bind("alert", finding.id())
                .execute();
        handle.createUpdate("""
                update alert_case set latest_at = greatest(latest_at, :at), cause = coalesce(cause, :cause)
                where id = :id""")
                .bind("id", to.id())
                .bind("at", finding.raisedAt())
                .bind("cause", to.cause().map(Cause::code))
                .execute();
        from.ifPresent(left -> CaseChanges.inheritNotice(handle, left, to.id()));
        CaseChanges.note(
                handle,
                to.id(),
                finding.at(),
                AuditTrail.DETECTION,
                to.opens() ? "opened" : "grew",
                finding.machine().map(machine -> machine + ": ").orElse("") + finding.summary());
        from.ifPresent(left -> CaseChanges.left(handle, left, to.id(), finding.at(), AuditTrail.DETECTION));
    }

    private static void nameCause(Handle handle, Placement placement) {
        handle.createUpdate("update alert_case set cause = :cause where id = :id")
                .bind("id", placement.id())
                .bind("cause", placement.cause().map(Cause::code))
                .execute();
    }

    /** A call joins the case that it is about; where there is none, it opens one. */
    public Optional<UUID> call(Handle handle, String site, long event, Happened call) {
        List<OpenCase> open = CaseQuery.open(handle, site);
        Optional<OpenCase> joined = new CaseRules(books.cases()).placeCall(call.machine(), open);
        CaseKey key = new CaseKey.OfSubject(call.machine().orElse("site:" + site));
        UUID id = joined.map(OpenCase::id)
                .orElseGet(() -> CaseRules.idOf(
                        key, "call|" + call.at().toEpochMilli() + '|' + call.job() + '|' + call.detail()));
        if (joined.isEmpty()) {
            open(handle, id, site, key, Optional.empty(), call.at());
        }
        handle.createUpdate("update site_event set case_id = :case where id = :event")
                .bind("case", id)
                .bind("event", event)
                .execute();
        CaseChanges.note(
                handle,
                id,
                call.at(),
                call.by().isEmpty() ? "site" : call.by(),
                joined.isEmpty() ? "opened" : "call joined",
                call.detail());
        return Optional.of(id);
    }

    /**
     * Work on a machine is a line of its case.
     *
     * @param named the case that the report names; else the newest open one that the machine is in
     * @return the case; absent where there is none
     */
    public Optional<UUID> work(
            Handle handle, String site, String machine, Optional<UUID> named, Instant at, String who, String found) {
        Optional<UUID> in = named.or(() -> new CaseRules(books.cases())
                .placeCall(Optional.of(machine), CaseQuery.open(handle, site))
                .map(OpenCase::id));
        in.ifPresent(id -> CaseChanges.note(handle, id, at, who, "work reported", machine + ": " + found));
        return in;
    }

    /** Whether there is such a case on the site, open or closed. */
    public static boolean isOn(Handle handle, UUID id, String site) {
        return handle.createQuery("select exists (select from alert_case where id = :id and site = :site)")
                .bind("id", id)
                .bind("site", site)
                .mapTo(Boolean.class)
                .one();
    }

    private static Member member(Handle handle, Finding finding) {
        record Standing(Optional<String> gateway, Optional<String> room) {}
        Standing standing = finding.machine()
                .flatMap(machine -> handle.createQuery("select gateway, room from machine where id = :id")
                        .bind("id", machine)
                        .map((row, context) -> new Standing(
                                Optional.of(Objects.requireNonNull(row.getString(1))),
                                Optional.ofNullable(row.getString(2))))
                        .findOne())
                .orElseGet(() -> new Standing(finding.gateway(), Optional.empty()));
        return new Member(
                finding.id(),
                finding.site(),
                finding.machine(),
                standing.gateway(),
                standing.room(),
                finding.condition(),
                finding.causes(),
                finding.raisedAt());
    }
}
