package dev.rimecast.history;

import dev.rimecast.history.store.StoredFile.Partition;
import dev.rimecast.history.table.Taken;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/** Topics in memory: what is appended gets its offset, and is kept. */
public final class ToyLog {
    public static final Instant START = Instant.parse("2026-03-01T00:00:00Z");
    public static final String SITE = "harbour";

    private final Map<String, Long> next = new HashMap<>();
    private final List<Taken> records = new ArrayList<>();
    private final String id;

    public ToyLog() {
        this("toy-log");
    }

    /** @param id of its topics */
    public ToyLog(String id) {
        this.id = id;
    }

    public static Instant at(int minute) {
        return START.plus(Duration.ofMinutes(minute));
    }

    private ToyLog append(String topic, String key, byte[] value) {
        long offset = next.merge(topic, 1L, Long::sum) - 1;
        // Kafka writes a batch with one time, so that many records share one.
        long arrived = START.toEpochMilli() + 1000 * (records.size() / 10);
        records.add(new Taken(topic, id, 0, offset, arrived, key, value));
        return this;
    }

    public ToyLog site(SiteRecord record) {
        return append(Topics.SITES, SITE, SiteLogCodec.encode(record));
    }

    public ToyLog pack(Reading... readings) {
        return site(new SiteRecord.Pack("gw-1", Optional.empty(), START, List.of(readings), 0));
    }

    public ToyLog tick(int minute) {
        return append(Topics.SITES, "", SiteLogCodec.encode(new SiteRecord.Tick(at(minute))));
    }

    public ToyLog event(int minute, String machine, EventKind kind, String detail) {
        return site(new SiteRecord.Happened(
                at(minute), machine.isEmpty() ? Optional.empty() : Optional.of(machine), kind, detail, "Pim", "J-1"));
    }

    public ToyLog garbage() {
        return append(Topics.SITES, SITE, new byte[] {99, 98});
    }

    /** Two channels and a phase, the first as given. */
    public ToyLog minute(int minute, String machine, double evaporator) {
        return pack(
                temperature(minute, machine, evaporator),
                Reading.number(
                        machine, Channel.CONDENSER_TEMPERATURE, at(minute).toEpochMilli(), 41.25),
                Reading.phase(machine, at(minute).toEpochMilli(), Phase.FREEZE));
    }

    public static Reading temperature(int minute, String machine, double evaporator) {
        return Reading.number(
                machine, Channel.EVAPORATOR_TEMPERATURE, at(minute).toEpochMilli(), evaporator);
    }

    public ToyLog cycle(int minute, String machine) {
        return append(
                Topics.CYCLES,
                SITE,
                CycleJson.encode(new Cycle(
                        machine,
                        at(minute),
                        at(minute + 25),
                        OptionalDouble.of(412.5),
                        OptionalDouble.of(1200),
                        OptionalDouble.of(95),
                        OptionalDouble.of(43),
                        OptionalDouble.of(41),
                        OptionalDouble.empty(),
                        OptionalDouble.of(-14),
                        OptionalDouble.of(24),
                        "sensor",
                        OptionalDouble.empty(),
                        "",
                        OptionalInt.of(2),
                        OptionalDouble.of(1.5),
                        OptionalDouble.empty(),
                        true,
                        List.of(new Cycle.Residual(Feature.PULL_DOWN, 412.5, 380, 12)),
                        "1",
                        "standard",
                        Optional.empty())));
    }

    public ToyLog finding(Finding finding) {
        return append(Topics.FINDINGS, SITE, FindingJson.encode(finding));
    }

    /** A revision of the finding that was raised in that minute. */
    public static Finding revision(
            int raised, int revision, int minute, Finding.Step step, Stage stage, String summary, Cause... causes) {
        List<Finding.ProbableCause> named = new ArrayList<>();
        for (Cause cause : causes) {
            named.add(new Finding.ProbableCause(cause, 0.6 / (1 + named.size()), List.of(), List.of()));
        }
        return new Finding(
                Finding.idOf("ice-1", Condition.SLOW_PULL_DOWN, at(raised)),
                revision,
                step,
                SITE,
                Optional.of("ice-1"),
                Optional.empty(),
                Condition.SLOW_PULL_DOWN,
                stage,
                Priority.MEDIUM,
                at(minute),
                at(raised),
                named,
                Optional.of(
                        new Finding.Measure("pull-down", "s", 412.5, OptionalDouble.of(380), OptionalDouble.of(900))),
                step == Finding.Step.RAISED
                        ? Optional.of(new Finding.LimitExpected(at(9000), at(8000), at(10_000)))
                        : Optional.empty(),
                summary,
                "1",
                "standard");
    }

    public List<Taken> records() {
        return List.copyOf(records);
    }

    /** Where reading goes on after all of it. */
    public Map<Partition, Long> positions() {
        return positions(records);
    }

    public static Map<Partition, Long> positions(List<Taken> records) {
        Map<Partition, Long> positions = new HashMap<>();
        records.forEach(record -> positions.merge(
                new Partition(record.topic(), record.log(), record.partition()), record.offset() + 1, Math::max));
        return positions;
    }
}
