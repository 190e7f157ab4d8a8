package dev.rimecast.history.trial;

import dev.rimecast.history.compare.Raised;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.trial.SiteDouble.Side;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import java.io.BufferedInputStream;
import java.io.BufferedOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.FileOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.TreeMap;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Where a partition of a trial goes on after a stop. Nothing hangs on it but time: without it, or with one that can't be
 * read, the trial goes through the history anew and comes to the same.
 */
final class TrialFile {
    private static final int LAYOUT = 1;
    private static final long NONE = Long.MIN_VALUE;

    private TrialFile() {}

    static void write(Path file, PartitionDouble from) {
        Path written = file.resolveSibling(file.getFileName() + ".new");
        try {
            try (FileOutputStream bytes = new FileOutputStream(written.toFile());
                    DataOutputStream out = new DataOutputStream(new BufferedOutputStream(bytes))) {
                out.writeInt(LAYOUT);
                text(out, from.log);
                out.writeInt(from.partition);
                out.writeLong(from.next);
                out.writeBoolean(from.isWhole);
                out.writeBoolean(from.hasBegun);
                out.writeLong(from.currentRaised);
                out.writeLong(from.candidateRaised);
                out.writeLong(from.same);
                out.writeLong(from.leftOut);
                out.writeLong(millis(Optional.ofNullable(from.reached)));
                out.writeInt(from.sites.size());
                for (SiteDouble site : from.sites.values()) {
                    text(out, site.site);
                    out.writeBoolean(site.candidate != null);
                    side(out, site.current);
                    if (site.candidate != null) {
                        side(out, site.candidate);
                    }
                }
                out.flush();
                bytes.getFD().sync();
            }
            Files.move(written, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
        } catch (IOException e) {
            throw new HistoryException("the trial can't be kept in " + file + ": " + e.getMessage(), e);
        }
    }

    /** How far that file is; empty where there is none of that log. */
    static OptionalLong next(Path file, String log) {
        if (!Files.exists(file)) {
            return OptionalLong.empty();
        }
        try (DataInputStream in = new DataInputStream(new BufferedInputStream(Files.newInputStream(file)))) {
            boolean isSame = in.readInt() == LAYOUT && text(in).equals(log) && in.readInt() >= 0;
            return isSame ? OptionalLong.of(in.readLong()) : OptionalLong.empty();
        } catch (IOException unreadable) {
            return OptionalLong.empty();
        }
    }

    /** Empty where there is none that this version can read. */
    static Optional<PartitionDouble> read(Path file) {
        if (!Files.exists(file)) {
            return Optional.empty();
        }
        try (DataInputStream in = new DataInputStream(new BufferedInputStream(Files.newInputStream(file)))) {
            if (in.readInt() != LAYOUT) {
                return Optional.empty();
            }
            PartitionDouble to = new PartitionDouble(text(in), in.readInt());
            to.next = in.readLong();
            to.isWhole = in.readBoolean();
            to.hasBegun = in.readBoolean();
            to.currentRaised = in.readLong();
            to.candidateRaised = in.readLong();
            to.same = in.readLong();
            to.leftOut = in.readLong();
            to.reached = instant(in.readLong()).orElse(null);
            for (int sites = in.readInt(); sites > 0; sites--) {
                String site = text(in);
                boolean isDouble = in.readBoolean();
                Side current = side(in, site);
                Side candidate = isDouble ? side(in, site).keepingOver() : null;
                to.sites.put(site, new SiteDouble(site, isDouble ? current.keepingOver() : current, candidate));
            }
            return Optional.of(to);
        } catch (IOException | RuntimeException unreadable) {
            // Cut off, or of another version of the monitors.
            return Optional.empty();
        }
    }

    private static void side(DataOutputStream out, Side side) throws IOException {
        side.save();
        out.writeInt(side.states.size());
        for (Map.Entry<String, byte[]> state : side.states.entrySet()) {
            text(out, state.getKey());
            bytes(out, state.getValue());
        }
        out.writeInt(side.raised.size());
        for (Raised raised : side.raised.values()) {
            out.writeLong(raised.id().getMostSignificantBits());
            out.writeLong(raised.id().getLeastSignificantBits());
            text(out, raised.machine().orElse(""));
            text(out, raised.gateway().orElse(""));
            text(out, raised.condition().code());
            text(out, raised.priority().code());
            out.writeLong(raised.raisedAt().toEpochMilli());
            out.writeLong(millis(raised.clearedAt()));
            text(out, raised.cause());
            text(out, raised.summary());
        }
    }

    private static Side side(DataInputStream in, String site) throws IOException {
        Map<String, byte[]> states = new TreeMap<>();
        for (int count = in.readInt(); count > 0; count--) {
            states.put(text(in), bytes(in));
        }
        Map<UUID, Raised> raised = new LinkedHashMap<>();
        for (int count = in.readInt(); count > 0; count--) {
            UUID id = new UUID(in.readLong(), in.readLong());
            Optional<String> machine = some(text(in));
            Optional<String> gateway = some(text(in));
            String condition = text(in);
            String priority = text(in);
            raised.put(
                    id,
                    new Raised(
                            id,
                            site,
                            machine,
                            gateway,
                            Condition.ofCode(condition).orElseThrow(),
                            Priority.ofCode(priority).orElseThrow(),
                            Instant.ofEpochMilli(in.readLong()),
                            instant(in.readLong()),
                            text(in),
                            text(in)));
        }
        return new Side(site, states, raised);
    }

    private static Optional<String> some(String text) {
        return text.isEmpty() ? Optional.empty() : Optional.of(text);
    }

    private static long millis(Optional<Instant> at) {
        return at.map(Instant::toEpochMilli).orElse(NONE);
    }

    private static Optional<Instant> instant(long millis) {
        return millis == NONE ? Optional.empty() : Optional.of(Instant.ofEpochMilli(millis));
    }

    private static void text(DataOutputStream out, @Nullable String text) throws IOException {
        bytes(out, (text == null ? "" : text).getBytes(StandardCharsets.UTF_8));
    }

    private static String text(DataInputStream in) throws IOException {
        return new String(bytes(in), StandardCharsets.UTF_8);
    }

    private static void bytes(DataOutputStream out, byte[] bytes) throws IOException {
        out.writeInt(bytes.length);
        out.write(bytes);
    }

    private static byte[] bytes(DataInputStream in) throws IOException {
        int length = in.readInt();
        byte[] bytes = length < 0 ? new byte[0] : in.readNBytes(length);
        if (bytes.length != length) {
            throw new IOException("cut off");
        }
        return bytes;
    }
}
