package dev.rimecast.app.backup;

import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.security.DigestInputStream;
import java.util.HexFormat;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.json.JsonMapper;

/** An archive that was found whole: every entry has the sum that its manifest says. */
final class Archive implements AutoCloseable {
    private final ZipFile zip;
    private final Manifest manifest;

    private Archive(ZipFile zip, Manifest manifest) {
        this.zip = zip;
        this.manifest = manifest;
    }

    /**
     * Opens an archive and reads all of it once.
     *
     * @throws BackupException if it is none, breaks off, was altered, or is of a later format
     */
    static Archive verified(Path file) throws IOException {
        ZipFile zip;
        try {
            zip = new ZipFile(file.toFile());
        } catch (ZipException | EOFException e) {
            throw new BackupException(file + " is no backup, or breaks off before its end: " + e.getMessage(), e);
        }
        try {
            Archive archive = new Archive(zip, manifest(zip, file));
            archive.verify(file);
            return archive;
        } catch (ZipException | EOFException e) {
            zip.close();
            throw new BackupException(file + " is damaged: " + e.getMessage(), e);
        } catch (RuntimeException | IOException e) {
            zip.close();
            throw e;
        }
    }

    private static Manifest manifest(ZipFile zip, Path file) throws IOException {
        byte[] bytes = bytes(zip, file, Manifest.NAME);
        String seal = new String(bytes(zip, file, ArchiveWriter.SEAL), StandardCharsets.US_ASCII);
        if (!seal.equals(HexFormat.of().formatHex(Sha256.of(bytes)))) {
            throw new BackupException(file + " was altered: its manifest does not have the sum that was written");
        }
        try {
            int format = JsonMapper.shared().readTree(bytes).path("format").asInt(0);
            if (format < 1 || format > Manifest.FORMAT) {
                throw new BackupException(file + " has format " + format + ", this version reads 1 to "
                        + Manifest.FORMAT + ": use the version of Rimecast that wrote it, or a later one");
            }
            return JsonMapper.shared().readValue(bytes, Manifest.class);
        } catch (JacksonException e) {
            throw new BackupException(file + " has a manifest that can't be read: " + e.getOriginalMessage(), e);
        }
    }

    private static byte[] bytes(ZipFile zip, Path file, String name) throws IOException {
        ZipEntry entry = zip.getEntry(name);
        if (entry == null) {
            throw new BackupException(file + " is no backup: it has no " + name);
        }
        try (InputStream in = zip.getInputStream(entry)) {
            return in.readAllBytes();
        }
    }

    private void verify(Path file) throws IOException {
        for (Manifest.Entry entry : manifest.entries()) {
            try (DigestInputStream in = new DigestInputStream(open(entry.name()), Sha256.fresh())) {
                long bytes = in.transferTo(OutputStream.nullOutputStream());
                String sum = HexFormat.of().formatHex(in.getMessageDigest().digest());
                if (bytes != entry.bytes() || !sum.equals(entry.sha256())) {
                    throw new BackupException(file + " was altered: " + entry.name() + " does not have the sum that was"
                            + " written. Nothing was put back");
                }
            }
        }
    }

    Manifest manifest() {
        return manifest;
    }

    /** What it is, in a line. */
    String inWords() {
        return "the state of " + manifest.createdAt() + ", written by version " + manifest.product() + ", "
                + manifest.tables().stream().mapToLong(Manifest.Table::rows).sum() + " rows, "
                + manifest.topics().size() + " topics";
    }

    InputStream open(String name) throws IOException {
        ZipEntry entry = zip.getEntry(name);
        if (entry == null) {
            throw new BackupException(zip.getName() + " lacks " + name + ", of which its manifest tells");
        }
        return zip.getInputStream(entry);
    }

    @Override
    public void close() throws IOException {
        zip.close();
    }
}
