package dev.rimecast.history.tune;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.monitor.TapePlayer;
import dev.rimecast.analytics.monitor.TapeWriter;
import dev.rimecast.analytics.policy.Policy;
import java.io.BufferedInputStream;
import java.io.BufferedOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
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
    /** Of each site, in memory until all is written: a fleet has thousands of them. */
    private static final int BLOCK = 8_000;

    private final Path directory;
    private final Map<String, Path> files = new TreeMap<>();
    /** Those that are written now. Their files are open only while a block goes out. */
    private final List<TapeWriter> open = new ArrayList<>();

    /** @param directory is there, and of these only */
    public Tapes(Path directory) {
        this.directory = directory;
    }

    /** Has a site's monitor note what it comes to. */
    public synchronized void of(String site, SiteMonitor monitor) {
        Path file = directory.resolve("site-" + files.size() + ".tape");
        try {
            Files.write(file, new byte[0]);
            TapeWriter writer = new TapeWriter(block -> append(file, block), BLOCK);
            files.put(site, file);
            open.add(writer);
            monitor.tapedBy(writer);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** All is written. */
    public synchronized void end() {
        open.forEach(TapeWriter::flush);
        open.clear();
    }

    public synchronized List<String> sites() {
        return List.copyOf(files.keySet());
    }

    /** Sites so far. */
    public synchronized int size() {
        return files.size();
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

    /** Makes no file: one that was deleted stays so. */
    private static void append(Path file, byte[] block) {
        try (DataOutputStream out = new DataOutputStream(
                new BufferedOutputStream(Files.newOutputStream(file, StandardOpenOption.APPEND), 2 * BLOCK))) {
            out.writeInt(block.length);
            out.write(block);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Deletes the files. */
    @Override
    public synchronized void close() {
        open.clear();
        for (Path file : files.values()) {
            file.toFile().delete();
        }
        files.clear();
    }
}
