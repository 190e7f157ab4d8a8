package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.ProofView;
import dev.rimecast.alerts.view.ProofView.Look;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.proof.Check;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.proof.ProofJson;
import dev.rimecast.telemetry.proof.Verdict;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jdbi.v3.core.Handle;

/** Proofs of fix: the newest revision of each, and what was said at each look. A repeat or an older one changes nothing. */
public final class ProofStore {
    private ProofStore() {}

    /** @return whether it was news */
    public static boolean write(Handle handle, Proof proof) {
        int written = handle.createUpdate("""
                        insert into proof (id, site, machine, worked_at, revision, at, verdict, last, record)
                        values (:id, :site, :machine, :worked, :revision, :at, :verdict, :last, cast(:record as jsonb))
                        on conflict (id) do update
                        set site = excluded.site, revision = excluded.revision, at = excluded.at,
                            verdict = excluded.verdict, last = excluded.last, record = excluded.record
                        where proof.revision < excluded.revision""")
                .bind("id", proof.id())
                .bind("site", proof.site())
                .bind("machine", proof.machine())
                .bind("worked", proof.workedAt())
                .bind("revision", proof.revision())
                .bind("at", proof.at())
                .bind("verdict", proof.verdict().code())
                .bind("last", proof.isLast())
                .bind("record", new String(ProofJson.encode(proof), StandardCharsets.UTF_8))
                .execute();
        handle.createUpdate("""
                        insert into proof_look (proof, looked, revision, at, verdict, summary)
                        values (:id, :looked, :revision, :at, :verdict, :summary)
                        on conflict (proof, looked) do update
                        set revision = excluded.revision, at = excluded.at, verdict = excluded.verdict,
                            summary = excluded.summary
                        where proof_look.revision < excluded.revision""")
                .bind("id", proof.id())
                .bind("looked", proof.check().code())
                .bind("revision", proof.revision())
                .bind("at", proof.at())
                .bind("verdict", proof.verdict().code())
                .bind("summary", proof.summary())
                .execute();
        return written > 0;
    }

    /** Of one machine, the newest work first. */
    static List<ProofView> ofMachine(Handle handle, String machine, int limit) {
        List<Proof> proofs = handle.createQuery(
                        "select record from proof where machine = :machine order by worked_at desc, id limit :limit")
                .bind("machine", machine)
                .bind("limit", limit)
                .map((row, context) -> ProofJson.decode(row.getString(1).getBytes(StandardCharsets.UTF_8)))
                .list();
        if (proofs.isEmpty()) {
            return List.of();
        }
        Map<UUID, List<Look>> looks = looks(handle, proofs);
        return proofs.stream()
                .map(proof -> new ProofView(proof, looks.getOrDefault(proof.id(), List.of())))
                .toList();
    }

    /** The newest verdict first. */
    static List<Proof> notHeld(Handle handle, SiteScope sites, Instant from, Instant to, int limit) {
        return handle.createQuery("""
                        select record from proof
                        where verdict = 'not-held' and at >= :from and at < :to
                          and (:everySite or site = any(:sites))
                        order by at desc, id limit :limit""")
                .bind("from", from)
                .bind("to", to)
                .bind("everySite", sites.isEvery())
                .bindArray("sites", String.class, sites.sites())
                .bind("limit", limit)
                .map((row, context) -> ProofJson.decode(row.getString(1).getBytes(StandardCharsets.UTF_8)))
                .list();
    }

    /** What turned out not to have held, and what no digest of that name has told of; by site and machine. */
    public static List<Proof> notHeld(Handle handle, String digest, Instant from, Instant to) {
        return handle.createQuery("""
                        select record from proof p
                        where p.verdict = 'not-held' and p.at >= :from and p.at <= :to
                          and not exists (select from notice_delivery d
                                          where d.kind = 'digest' and d.route = :digest
                                            and d.content #> '{data,notHeld}' @> to_jsonb(p.id::text))
                        order by p.site, p.machine, p.worked_at""")
                .bind("digest", digest)
                .bind("from", from)
                .bind("to", to)
                .map((row, context) -> ProofJson.decode(row.getString(1).getBytes(StandardCharsets.UTF_8)))
                .list();
    }

    private record LookRow(UUID proof, Look look) {}

    private static Map<UUID, List<Look>> looks(Handle handle, List<Proof> proofs) {
        return handle
                .createQuery("select proof, looked, at, verdict, summary from proof_look where proof in (<ids>)"
                        + " order by revision")
                .bindList("ids", proofs.stream().map(Proof::id).toList())
                .map((row, context) -> new LookRow(
                        row.getObject("proof", UUID.class),
                        new Look(
                                Check.ofCode(row.getString("looked")).orElseThrow(),
                                row.getTimestamp("at").toInstant(),
                                Verdict.ofCode(row.getString("verdict")).orElseThrow(),
                                row.getString("summary"))))
                .stream()
                .collect(Collectors.groupingBy(LookRow::proof, Collectors.mapping(LookRow::look, Collectors.toList())));
    }
}
