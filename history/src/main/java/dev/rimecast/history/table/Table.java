package dev.rimecast.history.table;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.machine.Channel;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;

/**
 * The tables. Each row has a time by whose day (UTC) it is filed, and a key: rows with the same key say the same, and one of
 * them stands, the one that was stored first. The columns change only by adding.
 */
public enum Table {
    /** What machines said, a row for each machine and time. */
    READINGS("time", List.of("machine", "time"), "machine", Columns.readings()),
    /** Finished cycles, with what was expected of them. */
    CYCLES("freeze_start", List.of("machine", "freeze_start"), "machine", Columns.cycles()),
    /** Every revision of every finding. */
    FINDINGS("said_at", List.of("finding", "revision"), "finding", Columns.findings()),
    /** Every revision of whether recorded work has held. */
    PROOFS("said_at", List.of("proof", "revision"), "proof", Columns.proofs()),
    /** The sites' logs as they are, what comes without end: packs, presence, ticks. */
    PACKS("arrived_at", List.of("log", "log_partition", "log_offset"), "log_partition", Columns.log()),
    /** The sites' logs as they are, what comes seldom: register, policies, events, weather. Kept for good. */
    RECORDS("arrived_at", List.of("log", "log_partition", "log_offset"), "log_partition", Columns.records());

    private final String time;
    private final List<String> key;
    private final String part;
    private final List<Column> columns;

    Table(String time, List<String> key, String part, List<Column> columns) {
        this.time = time;
        this.key = key;
        this.part = part;
        this.columns = columns;
    }

    /** Its name in SQL, and that of its directory. */
    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** The column by whose day a row is filed. */
    public String time() {
        return time;
    }

    /** Columns that are the same in two rows only if both say the same. */
    public List<String> key() {
        return key;
    }

    /** The column by which a day that is too large is split. */
    public String part() {
        return part;
    }

    public List<Column> columns() {
        return columns;
    }

    /** Where a column is. */
    public int indexOf(String column) {
        for (int i = 0; i < columns.size(); i++) {
            if (columns.get(i).name().equals(column)) {
                return i;
            }
        }
        throw new IllegalArgumentException(code() + " has no column " + column);
    }

    /** Whether rows with the same key are put together column by column, instead of one standing for all. */
    public boolean isMerged() {
        return this == READINGS;
    }

    /** Whether a row comes from a site's log and says where in it. */
    public boolean isOfLog() {
        return this == PACKS || this == RECORDS;
    }

    /** Whether it is kept whatever its age. */
    public boolean isKeptForGood() {
        return this == RECORDS;
    }

    /** The lists of columns, made before the tables are. */
    private static final class Columns {
        private static final Column SITE = Column.text("site", "site");
        private static final Column MACHINE = Column.text("machine", "machine");
        private static final Column ARRIVED = Column.time("arrived_at", "when Kafka took the record that it is from");
        private static final Column OFFSET = Column.count("log_offset", "offset of that record on its partition");

        private Columns() {}

        static List<Column> readings() {
            List<Column> columns = new ArrayList<>(List.of(
                    Column.time("time", "the reading's own time"),
                    MACHINE,
                    SITE,
                    Column.text("gateway", "who sent it")));
            for (Channel channel : Channel.values()) {
                columns.add(new Column(channel.code(), kind(channel), channel.unit(), "channel of the contract"));
            }
            columns.add(ARRIVED);
            columns.add(OFFSET);
            return List.copyOf(columns);
        }

        private static Column.Kind kind(Channel channel) {
            return switch (channel.kind()) {
                case NUMBER, DURATION, COUNTER -> Column.Kind.NUMBER;
                case FLAG -> Column.Kind.FLAG;
                case PHASE, TEXT -> Column.Kind.TEXT;
            };
        }

        static List<Column> cycles() {
            List<Column> columns = new ArrayList<>(List.of(
                    Column.time("freeze_start", "when the freeze began"),
                    Column.time("ended_at", "harvest end, or the last sign of an incomplete cycle"),
                    MACHINE,
                    SITE,
                    Column.number("pull_down_s", "s", "freeze start to 0 °C"),
                    Column.number("freeze_s", "s", "length of the freeze"),
                    Column.number("harvest_s", "s", "length of the harvest"),
                    Column.number("condensing_peak_c", "Cel", "hottest of the condenser"),
                    Column.number("condensing_mean_c", "Cel", "mean of the condenser"),
                    Column.number("split_k", "K", "condenser over ambient at the fixed point of the freeze"),
                    Column.number("evaporator_end_c", "Cel", "evaporator when the freeze ended"),
                    Column.number("ambient_c", "Cel", "air entering the condenser"),
                    Column.text("ambient_source", "where that is from"),
                    Column.number("water_c", "Cel", "water at the inlet"),
                    Column.text("water_source", "where that is from"),
                    Column.count("drain_runs", "runs of the drain pump"),
                    Column.number("drain_level_max_s", "s", "longest level signal"),
                    Column.number("drain_run_max_s", "s", "longest run of the drain pump"),
                    Column.flag("complete", "false where a gap, a power cut or a stop cut it short")));
            for (Feature feature : Feature.values()) {
                String name = feature.name().toLowerCase(Locale.ROOT);
                columns.add(Column.number(name + "_measured", feature.unit(), "as it was judged"));
                columns.add(Column.number(
                        name + "_expected", feature.unit(), "what this machine should do in these conditions"));
                columns.add(Column.number(name + "_sigma", feature.unit(), "one standard deviation of what is normal"));
            }
            columns.addAll(versions());
            return List.copyOf(columns);
        }

        static List<Column> findings() {
            List<Column> columns = new ArrayList<>(List.of(
                    Column.text("finding", "its id, which is the alert's"),
                    Column.count("revision", "1 for the raise, then counting up"),
                    Column.text("step", "raised, updated, cleared"),
                    SITE,
                    Column.text("machine", "machine; empty for a finding about a gateway or a site"),
                    Column.text("gateway", "gateway, for a finding about one"),
                    Column.text("condition", "what is seen"),
                    Column.text("stage", "early, at-limit, stopped"),
                    Column.text("priority", "urgent, high, medium, low"),
                    Column.time("said_at", "event time of this revision"),
                    Column.time("raised_at", "event time of the raise"),
                    Column.text("probable_cause", "most probable cause"),
                    Column.number("cause_probability", "", "its probability, 0 to 1"),
                    Column.text("other_causes", "cause:probability, joined by ;"),
                    Column.text("cause_origin", "site, wear, part, circuit, link"),
                    Column.time("limit_expected_at", "when the limit is expected to be reached"),
                    Column.time("limit_expected_early", "early end of the 80 % interval"),
                    Column.time("limit_expected_late", "late end of it"),
                    Column.text("quantity", "what was measured"),
                    Column.text("unit", "its unit"),
                    Column.number("value", "", "what it was"),
                    Column.number("expected", "", "what this machine should show in these conditions"),
                    Column.number("limit_value", "", "where the machine's own controller stops"),
                    Column.text("summary", "one sentence; empty in a revision that only an answer has brought")));
            columns.addAll(versions());
            return List.copyOf(columns);
        }

        static List<Column> proofs() {
            List<Column> columns = new ArrayList<>(List.of(
                    Column.text("proof", "its id"),
                    Column.count("revision", "1 when the work was recorded, then counting up"),
                    SITE,
                    MACHINE,
                    Column.time("worked_at", "when the work was done"),
                    Column.time("said_at", "event time of this revision"),
                    Column.text("cause", "what the work was about"),
                    Column.text("verdict", "not-yet-known, held-so-far, held, not-held"),
                    Column.number("probability", "", "that it has held, 0 to 1"),
                    Column.count("cycles", "complete cycles since then that count"),
                    Column.flag("is_last", "whether nothing will follow"),
                    Column.text("summary", "in words")));
            columns.addAll(versions());
            return List.copyOf(columns);
        }

        private static List<Column> versions() {
            return List.of(
                    Column.text("detector", "version that decided"),
                    Column.text("policy", "version of the policy"),
                    ARRIVED,
                    OFFSET);
        }

        static List<Column> log() {
            return List.of(
                    Column.text("log", "which log: the topic's id"),
                    Column.count("log_partition", "its partition"),
                    OFFSET,
                    ARRIVED,
                    Column.text("site", "site; empty for a tick, which is for every site of its partition"),
                    Column.text("kind", "pack, presence, tick, register, policy, event, weather"),
                    Column.bytes("record", "the record as it is in the log"));
        }

        static List<Column> records() {
            return Stream.concat(
                            log().stream(),
                            Stream.of(
                                    Column.time("happened_at", "when it happened; of events only"),
                                    Column.text("machine", "machine; of events only, empty where it is the site's"),
                                    Column.text("event", "which event"),
                                    Column.text("detail", "its detail: cause found, part, complaint"),
                                    Column.text("said_by", "who says so"),
                                    Column.text("job", "the firm's own job number")))
                    .toList();
        }
    }
}
