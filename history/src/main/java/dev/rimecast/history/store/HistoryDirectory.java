package dev.rimecast.history.store;

import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.table.Table;
import dev.rimecast.telemetry.log.MalformedRecordException;
import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

/**
 * The directory of the history: a manifest, and a directory of Parquet files for each table. A file that the manifest does not
 * name is no part of it. Whoever writes is alone; whoever reads needs nothing but the manifest.
 */
public final class HistoryDirectory {
    public static final String MANIFEST = "manifest.json";
    public static final String VIEWS = "views.sql";
    static final String DAMAGED = "damaged";
    private static final String UNFINISHED = ".unfinished";
    private static final String PARQUET = ".parquet";

    private static final String SNAPSHOTS = "snapshots";

    private final Path root;

    public HistoryDirectory(Path root) {
        this.root = root.toAbsolutePath().normalize();
    }

    public Path root() {
        return root;
    }

    public Path path(StoredFile file) {
        return root.resolve(file.name());
    }

    /** Where what is unfinished is written: at the next start it is gone. */
    Path unfinished(String name) {
        return root.resolve(name + UNFINISHED);
    }

    /** Directory for what the database can't keep in memory. */
    public Path spill() {
        return root.resolve("spill");
    }

    public boolean exists() {
        return Files.exists(root.resolve(MANIFEST));
    }

    /**
     * The manifest as it is now.
     *
     * @return {@link Manifest#EMPTY} where no history was begun
     * @throws HistoryException if it can't be read, or is missing where there are files
     */
    public Manifest read() {
        try {
            return Manifest.decode(Files.readAllBytes(root.resolve(MANIFEST)));
        } catch (NoSuchFileException none) {
            if (parquetFiles().isEmpty()) {
                return Manifest.EMPTY;
            }
            throw new HistoryException(
                    root + " has files but no " + MANIFEST + ", which says what of them is the history:"
                            + " put it back, or move the directory away, and the history begins anew with what Kafka still has");
        } catch (MalformedRecordException e) {
            throw new HistoryException(
                    root.resolve(MANIFEST) + " can't be understood (" + e.getMessage()
                            + "): put a copy of it back, or move the directory away, and the history begins anew with what"
                            + " Kafka still has",
                    e);
        } catch (IOException e) {
            throw new HistoryException(root.resolve(MANIFEST) + " can't be read: " + e.getMessage(), e);
        }
    }

    /** Where snapshots of the monitors are. */
    public Path snapshots() {
        return root.resolve(SNAPSHOTS);
    }

    void makeTables() throws IOException {
        Files.createDirectories(snapshots());
        for (Table table : Table.values()) {
            Files.createDirectories(root.resolve(table.code()));
        }
    }

    /** Puts a finished file in its place: after this it survives a power cut, but is no part of the history yet. */
    void finish(String name) throws IOException {
        Path unfinished = unfinished(name);
        sync(unfinished);
        Path file = root.resolve(name);
        Files.move(unfinished, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
        syncDirectory(file);
    }

    /** From here on {@code manifest} is the history. */
    void publish(Manifest manifest, String views) throws IOException {
        replace(MANIFEST, manifest.encode());
        replace(VIEWS, views.getBytes(java.nio.charset.StandardCharsets.UTF_8));
    }

    private void replace(String name, byte[] bytes) throws IOException {
        Files.write(unfinished(name), bytes);
        finish(name);
    }

    private static void sync(Path file) throws IOException {
        try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
            channel.force(true);
        }
    }

    private static void syncDirectory(Path file) throws IOException {
        Path directory = file.getParent();
        if (directory != null) {
            try (FileChannel channel = FileChannel.open(directory, StandardOpenOption.READ)) {
                channel.force(true);
            }
        }
    }

    /** Files of the manifest that are missing or have another length: whatever cut them off. They are not read. */
    public List<StoredFile> damaged(Manifest manifest) {
        return manifest.files().stream().filter(file -> !hasItsLength(file)).toList();
    }

    /** Those of the files that are missing, or have another length or other bytes than were written. Reads all of them. */
    public List<StoredFile> altered(List<StoredFile> files) {
        return files.stream()
                .filter(file -> !hasItsLength(file) || !hasItsSum(file))
                .toList();
    }

    /**
     * Reads files before something is made of them that takes their place.
     *
     * @throws HistoryException if one is not as it was written
     */
    void requireWhole(List<StoredFile> files) {
        List<StoredFile> altered = altered(files);
        if (!altered.isEmpty()) {
            throw new HistoryException("damaged: " + path(altered.get(0))
                    + (altered.size() == 1 ? "" : " and " + (altered.size() - 1) + " more")
                    + "; no days are made until a copy of it is back or it is removed from " + MANIFEST);
        }
    }

    private boolean hasItsLength(StoredFile file) {
        try {
            return Files.size(path(file)) == file.bytes();
        } catch (IOException missing) {
            return false;
        }
    }

    private boolean hasItsSum(StoredFile file) {
        try {
            return file.sum().isEmpty() || file.sum().get().equals(FileSum.of(path(file)));
        } catch (IOException unreadable) {
            return false;
        }
    }

    /** Moves a damaged file out of the way, for whoever wants to look at it; nothing if it is not there at all. */
    void setAside(StoredFile file) throws IOException {
        Path from = path(file);
        if (Files.exists(from)) {
            Path to = root.resolve(DAMAGED);
            Files.createDirectories(to);
            Files.move(from, to.resolve(file.name().replace('/', '-')), StandardCopyOption.REPLACE_EXISTING);
        }
    }

    /** Deletes what the manifest does not name, and what is unfinished. */
    void sweep(Manifest manifest) throws IOException {
        Set<Path> named = new HashSet<>();
        manifest.files().forEach(file -> named.add(path(file)));
        manifest.superseded().forEach(file -> named.add(root.resolve(file.name())));
        for (Path file : parquetFiles()) {
            if (!named.contains(file)) {
                Files.deleteIfExists(file);
            }
        }
        Set<Path> kept = new HashSet<>();
        manifest.snapshots().forEach(snapshot -> kept.add(snapshot.in(this)));
        try (Stream<Path> files = Files.list(snapshots())) {
            for (Path file : files.filter(each -> !kept.contains(each)).toList()) {
                Files.deleteIfExists(file);
            }
        }
    }

    private List<Path> parquetFiles() {
        List<Path> found = new ArrayList<>();
        for (Table table : Table.values()) {
            Path directory = root.resolve(table.code());
            if (!Files.isDirectory(directory)) {
                continue;
            }
            try (Stream<Path> files = Files.list(directory)) {
                files.filter(file -> file.toString().endsWith(PARQUET)
                                || file.toString().endsWith(UNFINISHED))
                        .forEach(found::add);
            } catch (IOException e) {
                throw new HistoryException(directory + " can't be read: " + e.getMessage(), e);
            }
        }
        return found;
    }
}
