package dev.rimecast.engines;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.BasicFileAttributes;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.Locale;
import org.apache.commons.compress.archivers.tar.TarArchiveEntry;
import org.apache.commons.compress.archivers.tar.TarArchiveInputStream;
import org.jspecify.annotations.Nullable;
import org.tukaani.xz.XZInputStream;

/** The server's programs, unpacked once beside the data: about 60 MB, none of it in the temporary directory. */
record PostgresBinaries(Path directory) {
    /** The major version of the packaged server; a data directory belongs to one. */
    static final String MAJOR_VERSION = "18";

    /** Returns the unpacked programs below {@code parent}; unpacks them if this version is not there yet. */
    static PostgresBinaries unpackBelow(Path parent) throws IOException {
        String archive = "/postgres-" + system() + "-" + architecture() + ".txz";
        Path target = parent.resolve("binaries-" + fingerprint(archive));
        if (!Files.exists(target)) {
            Path half = parent.resolve("binaries.unpacking");
            deleteTree(half);
            unpack(archive, half);
            Files.move(half, target, StandardCopyOption.ATOMIC_MOVE);
        }
        return new PostgresBinaries(target);
    }

    String program(String name) {
        return directory.resolve("bin").resolve(name).toString();
    }

    private static String system() {
        String name = System.getProperty("os.name", "").toLowerCase(Locale.ROOT);
        return name.startsWith("mac") ? "darwin" : name;
    }

    private static String architecture() {
        String name = System.getProperty("os.arch", "");
        return switch (name) {
            case "amd64", "x86_64" -> "x86_64";
            case "aarch64", "arm64" -> "arm_64";
            default -> name;
        };
    }

    private static String fingerprint(String archive) throws IOException {
        try (InputStream in = open(archive)) {
            MessageDigest digest = MessageDigest.getInstance("SHA-256");
            new DigestInputStream(in, digest).transferTo(java.io.OutputStream.nullOutputStream());
            return HexFormat.of().formatHex(digest.digest(), 0, 6);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }

    private static InputStream open(String archive) {
        @Nullable InputStream in = PostgresBinaries.class.getResourceAsStream(archive);
        if (in == null) {
            throw new EngineException(
                    "no PostgreSQL server is packaged for this platform (" + archive.substring(1)
                            + " is not on the class path): set a JDBC URL of an outside PostgreSQL server in the configuration");
        }
        return in;
    }

    private static void unpack(String archive, Path target) throws IOException {
        try (TarArchiveInputStream tar =
                new TarArchiveInputStream(new XZInputStream(new BufferedInputStream(open(archive))))) {
            for (TarArchiveEntry entry = tar.getNextEntry(); entry != null; entry = tar.getNextEntry()) {
                Path file = target.resolve(entry.getName()).normalize();
                if (!file.startsWith(target)) {
                    throw new IOException(entry.getName() + " in " + archive + " leads out of the directory");
                }
                write(tar, entry, file);
            }
        }
    }

    private static void write(TarArchiveInputStream tar, TarArchiveEntry entry, Path file) throws IOException {
        if (entry.isDirectory()) {
            Files.createDirectories(file);
            return;
        }
        Files.createDirectories(file.getParent());
        if (entry.isSymbolicLink()) {
            Files.createSymbolicLink(file, Path.of(entry.getLinkName()));
            return;
        }
        Files.copy(tar, file);
        if ((entry.getMode() & 0100) != 0) {
            Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rwxr-xr-x"));
        }
    }

    static void deleteTree(Path root) throws IOException {
        if (!Files.exists(root)) {
            return;
        }
        Files.walkFileTree(root, new SimpleFileVisitor<>() {
            @Override
            public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) throws IOException {
                Files.delete(file);
                return FileVisitResult.CONTINUE;
            }

            @Override
            public FileVisitResult postVisitDirectory(Path directory, @Nullable IOException failure)
                    throws IOException {
                Files.delete(directory);
                return FileVisitResult.CONTINUE;
            }
        });
    }
}
