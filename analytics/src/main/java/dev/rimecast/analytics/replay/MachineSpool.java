package dev.rimecast.analytics.replay;

import dev.rimecast.telemetry.file.log.RejectedLine;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.reading.Reading;
import java.io.BufferedInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.PriorityQueue;
import java.util.Set;

/**
 * Sorts a recording that holds one machine after the other: a file for each machine, then the oldest next row of all. Of
 * equal times, the machine that came first in the recording is first.
 */
final class MachineSpool implements RowSource {
    private static final int BUFFER_BYTES = 16 * 1024;
    private static final Optional<PackNumber> NO_NUMBER = Optional.empty();

    private final List<Path> files = new ArrayList<>();
    private final List<OneMachine> open = new ArrayList<>();
    private final PriorityQueue<OneMachine> heads =
            new PriorityQueue<>(Comparator.comparingLong(OneMachine::time).thenComparingInt(OneMachine::order));
    private final List<RejectedLine> rejects;

    private MachineSpool(List<RejectedLine> rejects) {
        this.rejects = rejects;
    }

    /** Reads all rows, and gives them back sorted. */
    static MachineSpool sort(RowSource rows, Path directory) throws IOException {
        Map<String, Pending> pending = new LinkedHashMap<>();
        Set<Pending> ofRow = new LinkedHashSet<>();
        for (Optional<Row> row = rows.next(); row.isPresent(); row = rows.next()) {
            for (Reading reading : row.get().readings()) {
                Pending one = pending.computeIfAbsent(
                        reading.machine(), m -> new Pending(directory.resolve(pending.size() + ".rows")));
                one.add(row.get(), reading);
                ofRow.add(one);
            }
            for (Pending one : ofRow) {
                one.endRow();
            }
            ofRow.clear();
        }
        MachineSpool spool = new MachineSpool(rows.rejects());
        for (Pending one : pending.values()) {
            one.flush();
            spool.files.add(one.file);
        }
        for (Path file : spool.files) {
            OneMachine machine = new OneMachine(file, spool.open.size());
            spool.open.add(machine);
            if (machine.advance()) {
                spool.heads.add(machine);
            }
        }
        return spool;
    }

    @Override
    public Optional<Row> next() throws IOException {
        OneMachine first = heads.poll();
        if (first == null) {
            return Optional.empty();
        }
        Optional<Row> row = first.head;
        if (first.advance()) {
            heads.add(first);
        }
        return row;
    }

    @Override
    public List<RejectedLine> rejects() {
        return rejects;
    }

    @Override
    public void close() throws IOException {
        for (OneMachine machine : open) {
            machine.in.close();
        }
        for (Path file : files) {
            Files.deleteIfExists(file);
        }
    }

    /** Rows of one machine that are not in its file yet. */
    private static final class Pending {
        private final Path file;
        private final ByteArrayOutputStream bytes = new ByteArrayOutputStream(BUFFER_BYTES);
        private final List<Reading> readings = new ArrayList<>();
        private Optional<Row> row = Optional.empty();

        Pending(Path file) {
            this.file = file;
        }

        void add(Row of, Reading reading) {
            row = Optional.of(of);
            readings.add(reading);
        }

        void endRow() throws IOException {
            if (row.isEmpty()) {
                return;
            }
            Row done = row.get();
            byte[] pack = SiteLogCodec.encode(new SiteRecord.Pack(
                    done.gateway().orElse("-"), NO_NUMBER, Instant.ofEpochMilli(done.timeMillis()), readings, 0));
            DataOutputStream out = new DataOutputStream(bytes);
            out.writeUTF(done.file());
            out.writeLong(done.line());
            out.writeInt(pack.length);
            out.write(pack);
            readings.clear();
            row = Optional.empty();
            if (bytes.size() >= BUFFER_BYTES) {
                flush();
            }
        }

        void flush() throws IOException {
            try (OutputStream out = Files.newOutputStream(file, StandardOpenOption.CREATE, StandardOpenOption.APPEND)) {
                bytes.writeTo(out);
            }
            bytes.reset();
        }
    }

    /** One machine's file while it is read back. */
    private static final class OneMachine {
        private final DataInputStream in;
        private final int order;
        private Optional<Row> head = Optional.empty();

        OneMachine(Path file, int order) throws IOException {
            this.in = new DataInputStream(new BufferedInputStream(Files.newInputStream(file), BUFFER_BYTES));
            this.order = order;
        }

        long time() {
            return head.map(Row::timeMillis).orElse(Long.MAX_VALUE);
        }

        int order() {
            return order;
        }

        boolean advance() throws IOException {
            String file;
            try {
                file = in.readUTF();
            } catch (EOFException e) {
                head = Optional.empty();
                return false;
            }
            long line = in.readLong();
            SiteRecord.Pack pack = (SiteRecord.Pack) SiteLogCodec.decode(in.readNBytes(in.readInt()));
            Optional<String> gateway = pack.gateway().equals("-") ? Optional.empty() : Optional.of(pack.gateway());
            head = Optional.of(
                    new Row(file, line, pack.receivedAt().toEpochMilli(), gateway, pack.readings(), Optional.empty()));
            return true;
        }
    }
}
