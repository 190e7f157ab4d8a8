package dev.rimecast.history.state;

import dev.rimecast.history.failure.HistoryException;
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
import java.util.Optional;
import java.util.function.Consumer;
import java.util.zip.CRC32C;
import java.util.zip.CheckedInputStream;
import java.util.zip.CheckedOutputStream;

/**
 * A file that is either whole and of the question that it is read for, or is not used: it says what it is, for which question, and
 * ends with a checksum. It is written under another name, forced to disk and renamed.
 */
public final class StateFile {
    private static final int MAGIC = 0x52_69_6d_65;
    private static final int LAYOUT = 1;

    private StateFile() {}

    /** What is written. */
    public interface Out {
        void to(DataOutputStream out) throws IOException;
    }

    /** What is read. */
    public interface In<T> {
        T from(DataInputStream in) throws IOException;
    }

    /**
     * Writes it.
     *
     * @param key of what it is: whoever reads has to ask for the same
     * @return its length
     * @throws HistoryException if it can't be written
     */
    public static long write(Path file, String key, Out body) {
        Path written = file.resolveSibling(file.getFileName() + ".new");
        try {
            CRC32C sum = new CRC32C();
            try (FileOutputStream bytes = new FileOutputStream(written.toFile());
                    DataOutputStream out = new DataOutputStream(
                            new CheckedOutputStream(new BufferedOutputStream(bytes, 1 << 16), sum))) {
                out.writeInt(MAGIC);
                out.writeInt(LAYOUT);
                StateCodec.text(out, key);
                body.to(out);
                out.writeLong(sum.getValue());
                out.flush();
                bytes.getFD().sync();
            }
            Files.move(written, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
            return Files.size(file);
        } catch (IOException e) {
            throw new HistoryException("what was decided can't be kept in " + file + ": " + e.getMessage(), e);
        }
    }

    /** Whether it is there, whole, and of that key. */
    public static boolean isWhole(Path file, String key, long length) {
        In<Boolean> rest = in -> {
            byte[] buffer = new byte[1 << 16];
            long left = length - headBytes(key) - Long.BYTES;
            while (left > 0) {
                int read = in.read(buffer, 0, (int) Math.min(buffer.length, left));
                if (read < 0) {
                    throw new IOException("cut off");
                }
                left -= read;
            }
            return left == 0;
        };
        return read(file, key, rest, why -> {}).orElse(false);
    }

    private static long headBytes(String key) {
        return 3L * Integer.BYTES + key.getBytes(StandardCharsets.UTF_8).length;
    }

    /**
     * Reads it; empty where there is none that can be used.
     *
     * @param told why it can't, in a sentence, where there is one
     */
    public static <T> Optional<T> read(Path file, String key, In<T> body, Consumer<String> told) {
        if (!Files.exists(file)) {
            return Optional.empty();
        }
        CRC32C sum = new CRC32C();
        try (DataInputStream in = new DataInputStream(
                new CheckedInputStream(new BufferedInputStream(Files.newInputStream(file), 1 << 16), sum))) {
            if (in.readInt() != MAGIC
                    || in.readInt() != LAYOUT
                    || !StateCodec.text(in).equals(key)) {
                told.accept(file + " is of another question, log or version, and is not used");
                return Optional.empty();
            }
            T value = body.from(in);
            long expected = sum.getValue();
            if (in.readLong() != expected || in.read() != -1) {
                throw new IOException("checksum");
            }
            return Optional.of(value);
        } catch (IOException | RuntimeException damaged) {
            told.accept(file + " is cut off or damaged, and is not used");
            return Optional.empty();
        }
    }
}
