package dev.rimecast.history.tune;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.monitor.TapePlayer;
import dev.rimecast.analytics.monitor.TapeWriter;
import dev.rimecast.analytics.policy.Policy;
import java.io.BufferedInputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * What the readings of each site have come to, in a file each: its cycles, and what else is decided about besides them. Written in one
 * pass over the readings, read as often as other numbers are tried.
 */
public final class Tapes implements AutoCloseable {
    private static final int BUFFER = 1 << 17;

    private final Path directory;
    private final Map<String, Path> files = new TreeMap<>();
    /** Those that are written now. */
    private final List<Tape> open = new ArrayList<>();

    private record Tape(TapeWriter writer, DataOutputStream out) {}

    /** @param directory is there, and of these only */
    public Tapes(Path directory) {
        this.directory = directory;
    }

    /** Has a site's monitor note what it comes to. */
    public synchronized void of(String site, SiteMonitor monitor) {
        Path file = directory.resolve("site-" + files.size() + ".tape");
        try {
            DataOutputStream out = new DataOutputStream(Files.newOutputStream(file));
            TapeWriter writer = new TapeWriter(block -> {
                try {
                    out.writeInt(block.length);
                    out.write(block);
                } catch (IOException e) {
                    throw new UncheckedIOException(e);
                }
            });
            files.put(site, file);
            open.add(new Tape(writer, out));
            monitor.tapedBy(writer);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** All is written. */
    public synchronized void end() {
        for (Tape tape : open) {
            tape.writer().flush();
            close(tape);
        }
        open.clear();
    }

    public synchronized List<String> sites() {
        return List.copyOf(files.keySet());
    }

    /** Decides a site again, after {@link #end}. */
    public void play(String site, Policy policy, SiteMonitor.Output output) {
        TapePlayer player = new TapePlayer(site, policy, output);
        try (DataInputStream in =
                new DataInputStream(new BufferedInputStream(Files.newInputStream(file(site)), BUFFER))) {
            while (true) {
                byte[] block = new byte[in.readInt()];
                in.readFully(block);
                player.accept(block);
            }
        } catch (EOFException end) {
            // Blocks are whole: it was written by the same process.
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private synchronized Path file(String site) {
        Path file = files.get(site);
        if (file == null) {
            throw new IllegalArgumentException("no tape of site " + site);
        }
        return file;
    }

    /** Bytes on disk. */
    public synchronized long bytes() {
        long bytes = 0;
        for (Path file : files.values()) {
            bytes += file.toFile().length();
        }
        return bytes;
    }

    private static void close(Tape tape) {
        try {
            tape.out().close();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Deletes the files. */
    @Override
    public synchronized void close() {
        open.forEach(Tapes::close);
        open.clear();
        for (Path file : files.values()) {
            file.toFile().delete();
        }
        files.clear();
    }
}
