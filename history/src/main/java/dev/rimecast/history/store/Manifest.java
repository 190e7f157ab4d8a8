package dev.rimecast.history.store;

import dev.rimecast.history.store.StoredFile.Partition;
import dev.rimecast.history.store.StoredFile.Range;
import dev.rimecast.history.table.Table;
import dev.rimecast.telemetry.json.JsonRecordReader;
import dev.rimecast.telemetry.json.JsonRecordWriter;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/**
 * Which files are the history, and how far of each partition they reach. It is replaced as a whole: whoever reads one sees
 * files that belong together.
 *
 * @param generation counts the changes
 * @param positions next offset to read, for each partition
 * @param lost records that were deleted from Kafka before they were read
 * @param snapshots of the monitors, by partition and offset
 * @param superseded files that are no part of it any more, and still there for whoever reads an older one
 */
public record Manifest(
        long generation,
        Map<Partition, Long> positions,
        List<StoredFile> files,
        List<Range> lost,
        List<Snapshot> snapshots,
        List<Superseded> superseded) {
    public static final Manifest EMPTY = new Manifest(0, Map.of(), List.of(), List.of(), List.of(), List.of());

    public Manifest {
        positions = Map.copyOf(positions);
        files = List.copyOf(files);
        lost = List.copyOf(lost);
        snapshots = List.copyOf(snapshots);
        superseded = List.copyOf(superseded);
    }

    public Stream<StoredFile> of(Table table) {
        return files.stream().filter(file -> file.table() == table);
    }

    public List<StoredFile> batches(Table table) {
        return of(table).filter(StoredFile::isBatch).toList();
    }

    /** What is there for readers of older ones. */
    public long supersededBytes() {
        return superseded.stream().mapToLong(Superseded::bytes).sum();
    }

    public long bytes() {
        return files.stream().mapToLong(StoredFile::bytes).sum()
                + snapshots.stream().mapToLong(Snapshot::bytes).sum();
    }

    Manifest next(Map<Partition, Long> newPositions, List<StoredFile> newFiles, List<Range> newLost) {
        return new Manifest(generation + 1, newPositions, newFiles, newLost, snapshots, superseded);
    }

    Manifest with(Snapshot added) {
        return new Manifest(generation + 1, positions, files, lost, Snapshot.staying(snapshots, added), superseded);
    }

    /** The same of other files; those that are no longer among them are superseded. */
    Manifest with(List<StoredFile> newFiles, Instant now) {
        Set<StoredFile> staying = new HashSet<>(newFiles);
        List<Superseded> left = new ArrayList<>(superseded);
        files.stream()
                .filter(file -> !staying.contains(file))
                .forEach(file -> left.add(new Superseded(file.name(), file.bytes(), now)));
        return new Manifest(generation + 1, positions, newFiles, lost, snapshots, left);
    }

    /** The same without some superseded files. */
    Manifest without(List<Superseded> gone) {
        List<Superseded> left = new ArrayList<>(superseded);
        left.removeAll(gone);
        return new Manifest(generation + 1, positions, files, lost, snapshots, left);
    }

    /** The same without some files. */
    public Manifest of(List<StoredFile> whole) {
        return new Manifest(generation, positions, whole, lost, snapshots, superseded);
    }

    byte[] encode() {
        return JsonRecordWriter.write(out -> out.longInteger("generation", generation)
                .objects(
                        "positions",
                        positions.entrySet().stream()
                                .map(entry -> new Range(entry.getKey(), 0, entry.getValue()))
                                .sorted(java.util.Comparator.comparing((Range range) ->
                                                range.partition().topic())
                                        .thenComparing(
                                                range -> range.partition().log())
                                        .thenComparing(
                                                range -> range.partition().partition()))
                                .toList(),
                        (json, range) -> partition(range.partition(), json).longInteger("next", range.to()))
                .objects("files", files, Manifest::file)
                .objects("lost", lost, Manifest::range)
                .objects("snapshots", snapshots, Manifest::snapshot)
                .objects(
                        "superseded",
                        superseded,
                        (json, file) -> json.text("name", file.name())
                                .longInteger("bytes", file.bytes())
                                .longInteger("at_ms", file.at().toEpochMilli())));
    }

    private static void snapshot(JsonRecordWriter json, Snapshot snapshot) {
        partition(snapshot.partition(), json)
                .longInteger("from", snapshot.from())
                .longInteger("next", snapshot.next())
                .longInteger("arrived_ms", snapshot.arrived().toEpochMilli())
                .longInteger("until_ms", snapshot.until().toEpochMilli())
                .longInteger("week", snapshot.week())
                .text("version", snapshot.version())
                .text("name", snapshot.name())
                .longInteger("bytes", snapshot.bytes());
    }

    private static Snapshot snapshot(JsonRecordReader in) {
        return new Snapshot(
                partition(in),
                in.longInteger("from"),
                in.longInteger("next"),
                Instant.ofEpochMilli(in.longInteger("arrived_ms")),
                Instant.ofEpochMilli(in.longInteger("until_ms")),
                in.longInteger("week"),
                in.text("version"),
                in.text("name"),
                in.longInteger("bytes"));
    }

    private static JsonRecordWriter partition(Partition partition, JsonRecordWriter json) {
        return json.text("topic", partition.topic())
                .text("log", partition.log())
                .integer("partition", partition.partition());
    }

    private static void range(JsonRecordWriter json, Range range) {
        partition(range.partition(), json).longInteger("from", range.from()).longInteger("to", range.to());
    }

    private static void file(JsonRecordWriter json, StoredFile file) {
        json.text("table", file.table().code())
                .text("name", file.name())
                .text("day", file.day().map(LocalDate::toString))
                .longInteger("rows", file.rows())
                .longInteger("bytes", file.bytes())
                .longInteger("from_us", file.fromMicros())
                .longInteger("to_us", file.toMicros())
                .objects("offsets", file.offsets(), Manifest::range)
                .text("crc32c", file.sum());
    }

    /** @throws dev.rimecast.telemetry.log.MalformedRecordException if it is none */
    static Manifest decode(byte[] json) {
        return JsonRecordReader.read(json, in -> {
            Map<Partition, Long> positions = new java.util.HashMap<>();
            in.objects("positions", each -> Map.entry(partition(each), each.longInteger("next")))
                    .forEach(entry -> positions.put(entry.getKey(), entry.getValue()));
            return new Manifest(
                    in.longInteger("generation"),
                    positions,
                    in.objects("files", Manifest::file),
                    in.objects("lost", Manifest::range),
                    in.objects("snapshots", Manifest::snapshot),
                    in.objects(
                            "superseded",
                            each -> new Superseded(
                                    each.text("name"),
                                    each.longInteger("bytes"),
                                    Instant.ofEpochMilli(each.longInteger("at_ms")))));
        });
    }

    private static Partition partition(JsonRecordReader in) {
        return new Partition(in.text("topic"), in.text("log"), in.integer("partition"));
    }

    private static Range range(JsonRecordReader in) {
        return new Range(partition(in), in.longInteger("from"), in.longInteger("to"));
    }

    private static StoredFile file(JsonRecordReader in) {
        return new StoredFile(
                in.coded("table", Manifest::table),
                in.text("name"),
                in.optionalText("day").map(LocalDate::parse),
                in.longInteger("rows"),
                in.longInteger("bytes"),
                in.longInteger("from_us"),
                in.longInteger("to_us"),
                in.objects("offsets", Manifest::range),
                in.optionalText("crc32c"));
    }

    private static Optional<Table> table(String code) {
        return Stream.of(Table.values())
                .filter(table -> table.code().equals(code))
                .findFirst();
    }
}
