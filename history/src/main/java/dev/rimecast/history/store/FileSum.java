package dev.rimecast.history.store;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HexFormat;
import java.util.zip.CRC32C;

/**
 * The sum of a file's bytes: CRC-32C (Castagnoli; RFC 3720 section 12.1) as eight hexadecimal digits. It tells what a disk has
 * altered, every change of up to 32 bits in a row among it, and nothing of who altered it.
 */
final class FileSum {
    private static final int BUFFER_BYTES = 1 << 16;

    private FileSum() {}

    static String of(Path file) throws IOException {
        CRC32C sum = new CRC32C();
        byte[] buffer = new byte[BUFFER_BYTES];
        try (InputStream in = Files.newInputStream(file)) {
            for (int read = in.read(buffer); read >= 0; read = in.read(buffer)) {
                sum.update(buffer, 0, read);
            }
        }
        return HexFormat.of().toHexDigits((int) sum.getValue());
    }
}
