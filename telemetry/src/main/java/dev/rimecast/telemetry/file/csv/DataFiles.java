package dev.rimecast.telemetry.file.csv;

import com.github.luben.zstd.ZstdInputStreamNoFinalizer;
import com.github.luben.zstd.ZstdOutputStreamNoFinalizer;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.zip.GZIPInputStream;
import java.util.zip.GZIPOutputStream;
import java.util.zip.ZipException;

/** Files that may be compressed; the end of the name says how: {@code .gz}, {@code .zst}, anything else is plain. */
public final class DataFiles {
    private static final int BUFFER_BYTES = 1 << 16;

    private DataFiles() {}

    /** @throws InputProblems also while it is read, if it is compressed and cut off, or not compressed as its name says */
    public static InputStream open(Path file) throws IOException {
        InputStream raw = Files.newInputStream(file);
        try {
            if (endsWith(file, ".gz")) {
                return new CompressedInput(file, new GZIPInputStream(raw, BUFFER_BYTES));
            }
            return endsWith(file, ".zst") ? new CompressedInput(file, new ZstdInputStreamNoFinalizer(raw)) : raw;
        } catch (EOFException | ZipException e) {
            raw.close();
            throw CompressedInput.damaged(file, e);
        } catch (IOException | RuntimeException e) {
            raw.close();
            throw e;
        }
    }

    /** Makes the file, or empties it if it is there. */
    public static OutputStream create(Path file) throws IOException {
        OutputStream raw = Files.newOutputStream(file);
        try {
            if (endsWith(file, ".gz")) {
                return new GZIPOutputStream(raw, BUFFER_BYTES);
            }
            return endsWith(file, ".zst") ? new ZstdOutputStreamNoFinalizer(raw) : raw;
        } catch (IOException | RuntimeException e) {
            raw.close();
            throw e;
        }
    }

    private static boolean endsWith(Path file, String suffix) {
        return file.toString().endsWith(suffix);
    }
}
