package dev.rimecast.alerts.store;

import dev.rimecast.alerts.acceptance.AcceptanceView;
import dev.rimecast.alerts.acceptance.Kin;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.cycle.Acceptance;
import dev.rimecast.telemetry.cycle.Acceptance.Reason;
import dev.rimecast.telemetry.cycle.Acceptance.Verdict;
import dev.rimecast.telemetry.cycle.AcceptanceJson;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.json.JsonRecordReader;
import dev.rimecast.telemetry.json.JsonRecordWriter;
import java.nio.charset.StandardCharsets;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.jdbi.v3.core.Handle;

/** Whether machines are accepted: the newest word of each beginning. A repeat or one of fewer cycles changes nothing. */
public final class AcceptanceStore {
    private AcceptanceStore() {}

    /** Takes what a cycle says of its machine, if it says anything. */
    public static void write(Handle handle, String site, Cycle cycle) {
        cycle.acceptance().ifPresent(acceptance -> write(handle, site, cycle.machine(), cycle.end(), acceptance));
    }

    private static void write(Handle handle, String site, String machine, Instant at, Acceptance acceptance) {
        AcceptanceView view = AcceptanceView.of(site, machine, at, acceptance, othersOfGroup(handle, machine));
        handle.createUpdate("""
                insert into acceptance (machine, began, site, at, cycles, verdict, record, kin)
                values (:machine, :began, :site, :at, :cycles, :verdict, cast(:record as jsonb), cast(:kin as jsonb))
                on conflict (machine, began) do update
                set site = excluded.site, at = excluded.at, cycles = excluded.cycles, verdict = excluded.verdict,
                    record = excluded.record, kin = excluded.kin
                where acceptance.cycles < excluded.cycles""")
                .bind("machine", machine)
                .bind("began", acceptance.began())
                .bind("site", site)
                .bind("at", at)
                .bind("cycles", acceptance.cycles())
                .bind("verdict", view.verdict().code())
                .bind("record", new String(AcceptanceJson.encode(acceptance), StandardCharsets.UTF_8))
                .bind("kin", new String(encode(view.kin()), StandardCharsets.UTF_8))
                .execute();
    }

    /** The newest of each other machine of the same model group. */
    private static List<Acceptance> othersOfGroup(Handle handle, String machine) {
        return handle.createQuery("""
                select distinct on (a.machine) a.record from acceptance a
                join machine other on other.id = a.machine
                join machine own on own.id = :machine and own.model_group = other.model_group
                where a.machine <> :machine
                order by a.machine, a.began desc""")
                .bind("machine", machine)
                .map((row, context) -> acceptance(row, 1))
                .list();
    }

    /** Newest first; before them, one that waits where the machine was moved since and has made nothing. */
    static List<AcceptanceView> ofMachine(Handle handle, SiteScope sites, String machine) {
        List<AcceptanceView> views = new ArrayList<>(handle.createQuery("""
                select site, at, record, kin, verdict from acceptance
                where machine = :machine and (:everySite or site = any(:sites)) order by began desc""")
                .bind("machine", machine)
                .bind("everySite", sites.isEvery())
                .bindArray("sites", String.class, sites.sites())
                .map((row, context) -> new AcceptanceView(
                        row.getString(1),
                        machine,
                        row.getTimestamp(2).toInstant(),
                        acceptance(row, 3),
                        decode(row.getString(4)),
                        Verdict.ofCode(row.getString(5)).orElseThrow()))
                .list());
        Instant known =
                views.isEmpty() ? Instant.EPOCH : views.get(0).acceptance().began();
        handle.createQuery("""
                select site, kind, happened from site_event
                where machine = :machine and kind in ('moved', 'exchanged') and happened > :known
                  and (:everySite or site = any(:sites)) order by happened desc, id desc limit 1""")
                .bind("machine", machine)
                .bind("known", known)
                .bind("everySite", sites.isEvery())
                .bindArray("sites", String.class, sites.sites())
                .map((row, context) -> AcceptanceView.waiting(
                        row.getString(1),
                        machine,
                        Reason.ofCode(row.getString(2)).orElseThrow(),
                        row.getTimestamp(3).toInstant()))
                .findOne()
                .ifPresent(waiting -> views.add(0, waiting));
        return List.copyOf(views);
    }

    private static Acceptance acceptance(ResultSet row, int column) throws SQLException {
        return AcceptanceJson.decode(row.getString(column).getBytes(StandardCharsets.UTF_8));
    }

    private static byte[] encode(List<Kin> kin) {
        return JsonRecordWriter.write(out -> out.objects(
                "kin",
                kin,
                (inner, each) -> inner.text("feature", each.feature().code())
                        .integer("others", each.others())
                        .number("low", each.low())
                        .number("high", each.high())
                        .text("verdict", each.verdict().code())));
    }

    private static List<Kin> decode(String json) {
        return JsonRecordReader.read(
                json.getBytes(StandardCharsets.UTF_8),
                in -> in.objects(
                        "kin",
                        each -> new Kin(
                                each.coded("feature", Feature::ofCode),
                                each.integer("others"),
                                each.number("low"),
                                each.number("high"),
                                each.coded("verdict", Verdict::ofCode))));
    }
}
