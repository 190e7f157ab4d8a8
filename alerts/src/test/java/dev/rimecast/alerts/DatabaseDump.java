package dev.rimecast.alerts;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jdbi.v3.core.Jdbi;

/** What the database says, without what differs by nature: row numbers, and how far Kafka was read. */
final class DatabaseDump {
    private static final Map<String, String> TABLES = new LinkedHashMap<>(Map.of(
            "alert", "select t::text from alert t order by id",
            "finding_revision", "select t::text from finding_revision t order by alert, revision",
            "alert_audit",
                    "select alert || ' ' || at || ' ' || who || ' ' || what || ' ' || why from alert_audit"
                            + " order by alert, id",
            "alert_event",
                    "select id || ' ' || kind || ' ' || alert || ' ' || version || ' ' || at from alert_event"
                            + " order by alert, version",
            "alert_case", "select t::text from alert_case t order by id",
            "cycle", "select t::text from cycle t order by machine, freeze_start",
            "rollup_5min", "select t::text from rollup_5min t order by machine, bucket",
            "latest_value", "select t::text from latest_value t order by machine, channel",
            "visit", """
                    select v.site || ' ' || v.day || ' ' || v.from_minute || ' ' || v.engineer || ' ' || v.state || ' '
                            || string_agg(n.need || ' ' || n.title || ' ' || n.problem, '; ' order by n.need)
                        from visit v join visit_need n on n.visit = v.id where v.state <> 'cancelled'
                        group by v.id order by v.site, v.day, v.from_minute, min(n.need)""",
            "gateway_presence", "select t::text from gateway_presence t order by gateway"));

    static {
        TABLES.put(
                "acceptance",
                "select machine || ' ' || began || ' ' || cycles || ' ' || record from acceptance order by machine, began");
    }

    private DatabaseDump() {}

    static Map<String, List<String>> of(Jdbi jdbi) {
        Map<String, List<String>> dump = new LinkedHashMap<>();
        jdbi.useHandle(handle -> TABLES.forEach((table, query) ->
                dump.put(table, handle.createQuery(query).mapTo(String.class).list())));
        return dump;
    }
}
