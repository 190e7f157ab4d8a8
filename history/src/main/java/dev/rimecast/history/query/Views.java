package dev.rimecast.history.query;

import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.Manifest;
import dev.rimecast.history.store.Sources;
import dev.rimecast.history.table.Table;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** The views as SQL over the files of a manifest: any DuckDB can run it. */
public final class Views {
    /** An alert that was over three days before is not what a call is about. */
    private static final int LOOKS_BACK_HOURS = 72;

    private final Sources sources;

    public Views(HistoryDirectory directory) {
        this.sources = new Sources(directory);
    }

    /** Statements that make every view. */
    public String script(Manifest manifest) {
        return "-- Made anew with each change of the history. Times are UTC. What the columns mean: docs/history.md\n"
                + Stream.of(View.values()).map(view -> create(view, manifest)).collect(Collectors.joining("\n"));
    }

    /** The statement that makes one view, which needs those of the tables. */
    String create(View view, Manifest manifest) {
        return "create or replace temp view " + view.code() + " as " + body(view, manifest) + ";\n";
    }

    private String body(View view, Manifest manifest) {
        return switch (view) {
            case ALERTS -> alerts(manifest);
            case EVENTS -> events(manifest);
            case OUTCOMES -> outcomes(manifest);
            case READINGS, CYCLES, FINDINGS, PROOFS, PACKS, RECORDS ->
                sources.rows(view.table().orElseThrow(), manifest);
        };
    }

    private String rows(Table table, Manifest manifest) {
        return "(" + sources.rows(table, manifest) + ")";
    }

    /** As alerts.csv has them: as it stood last before it cleared, with the last diagnosis that said anything. */
    private String alerts(Manifest manifest) {
        return "select finding as alert, any_value(machine) as machine, any_value(condition) as condition,\n"
                + Stream.of("stage", "priority")
                        .map(column ->
                                "  coalesce(arg_max(" + column + ", revision) filter (step <> 'cleared'), any_value("
                                        + column + ")) as " + column + ",\n")
                        .collect(Collectors.joining())
                + "  min(raised_at) as raised_at, arg_max(said_at, revision) filter (step = 'cleared') as cleared_at,\n"
                + Stream.of("probable_cause", "cause_probability", "other_causes", "cause_origin")
                        .map(column -> "  arg_max_null(" + column
                                + ", revision) filter (probable_cause is not null) as " + column + ",\n")
                        .collect(Collectors.joining())
                + Stream.of("limit_expected_at", "limit_expected_early", "limit_expected_late")
                        .map(column -> "  arg_max_null(" + column + ", revision) filter (step <> 'cleared') as "
                                + column + ",\n")
                        .collect(Collectors.joining())
                + "  arg_max(summary, revision) filter (step <> 'cleared') as summary,\n"
                + "  any_value(site) as site, any_value(gateway) as gateway, max(revision) as revisions,\n"
                + "  arg_min(detector, revision) as detector, arg_min(policy, revision) as policy\nfrom "
                + rows(Table.FINDINGS, manifest) + " group by finding";
    }

    private String events(Manifest manifest) {
        return "select happened_at, site, machine, event, detail, said_by, job, arrived_at from "
                + rows(Table.RECORDS, manifest) + " where kind = 'event'";
    }

    /**
     * Visits, work and calls. A call was warned of if an alert stood about its machine, or about any machine of its site where
     * it names none, in the three days up to it; care and silence warn of nothing.
     */
    private String outcomes(Manifest manifest) {
        String causes = codes(Stream.of(Cause.values()).map(Cause::code));
        String warning =
                codes(Stream.of(Condition.values()).filter(Views::warns).map(Condition::code));
        return "with e as (" + events(manifest) + "),\n  a as (" + alerts(manifest) + "),\n"
                + "  p as (select machine, worked_at, arg_max(verdict, revision) as verdict,"
                + " arg_max_null(probability, revision) as probability from " + rows(Table.PROOFS, manifest)
                + " group by machine, worked_at)\n"
                + "select e.happened_at, e.site, e.machine, case when e.event = 'call' then 'called'\n"
                + "    when e.event <> 'visit' then 'done' when e.detail in (" + causes + ") then 'found'\n"
                + "    when e.detail = 'nothing-found' then 'nothing-found' else 'visited' end as outcome,\n"
                + "  e.event, e.detail, e.said_by, e.job,\n"
                + "  exists (select 1 from a where a.site = e.site and a.machine is not null\n"
                + "    and (e.machine is null or a.machine = e.machine) and a.condition in (" + warning + ")\n"
                + "    and a.raised_at <= e.happened_at and (a.cleared_at is null or a.cleared_at >= e.happened_at - interval "
                + LOOKS_BACK_HOURS + " hour)) as was_known,\n"
                + "  p.verdict as proof, p.probability as proof_probability\n"
                + "from e left join p on p.machine = e.machine and p.worked_at = e.happened_at\n"
                + "where e.event not in ('site-answer', 'closed-from', 'closed-to')";
    }

    private static boolean warns(Condition condition) {
        return !condition.isCare() && condition != Condition.MACHINE_SILENT && condition != Condition.GATEWAY_SILENT;
    }

    private static String codes(Stream<String> codes) {
        return codes.map(code -> "'" + code + "'").collect(Collectors.joining(", "));
    }
}
