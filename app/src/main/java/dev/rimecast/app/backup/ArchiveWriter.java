package dev.rimecast.app.backup;

import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.security.DigestOutputStream;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import tools.jackson.databind.json.JsonMapper;

/**
 * Writes an archive: a ZIP file (any tool reads it) with a manifest behind everything that it tells of, and the manifest's own
 * sum behind that. What breaks off before has neither.
 */
final class ArchiveWriter implements AutoCloseable {
    /** Holds the SHA-256 of the manifest in hexadecimal. */
    static final String SEAL = "manifest.sha256";

    private final ZipOutputStream zip;
    private final List<Manifest.Entry> entries = new ArrayList<>();

    ArchiveWriter(Path file) throws IOException {
        OwnFile.create(file);
        zip = new ZipOutputStream(Files.newOutputStream(file, StandardOpenOption.WRITE));
    }

    /** Content of one entry. */
    interface Content {
        void write(OutputStream out) throws IOException;
    }

    void entry(String name, Content content) throws IOException {
        zip.putNextEntry(new ZipEntry(name));
        Counted counted = new Counted(zip);
        content.write(counted.digest);
        zip.closeEntry();
        entries.add(new Manifest.Entry(
                name, HexFormat.of().formatHex(counted.digest.getMessageDigest().digest()), counted.bytes));
    }

    List<Manifest.Entry> entries() {
        return List.copyOf(entries);
    }

    /** Ends the archive. */
    void seal(Manifest manifest) throws IOException {
        byte[] bytes = JsonMapper.shared().writeValueAsBytes(manifest);
        plain(Manifest.NAME, bytes);
        plain(SEAL, HexFormat.of().formatHex(Sha256.of(bytes)).getBytes(StandardCharsets.US_ASCII));
        zip.finish();
    }

    private void plain(String name, byte[] bytes) throws IOException {
        zip.putNextEntry(new ZipEntry(name));
        zip.write(bytes);
        zip.closeEntry();
    }

    /** The archive's stream does not end with an entry's. */
    private static final class Counted extends FilterOutputStream {
        private final DigestOutputStream digest;
        private long bytes;

        Counted(OutputStream out) {
            super(out);
            digest = new DigestOutputStream(this, Sha256.fresh());
        }

        @Override
        public void write(int b) throws IOException {
            out.write(b);
            bytes++;
        }

        @Override
        public void write(byte[] b, int from, int length) throws IOException {
            out.write(b, from, length);
            bytes += length;
        }

        @Override
        public void close() throws IOException {
            flush();
        }
    }

    @Override
    public void close() throws IOException {
        zip.close();
    }
}
