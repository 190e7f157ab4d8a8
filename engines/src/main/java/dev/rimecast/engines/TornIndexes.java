package dev.rimecast.engines;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Kafka makes indexes anew that a power cut has torn, but for one kind: with an index of aborted transactions that it can't read it gives up at the start. Where
 * one is torn, all indexes of its segment are taken away; Kafka then reads the segment and writes them again.
 */
final class TornIndexes {
    private static final Logger LOG = LoggerFactory.getLogger(TornIndexes.class);
    private static final String ABORTED = ".txnindex";
    /** An entry: version, producer, first and last offset, last stable offset. */
    private static final int ENTRY_BYTES = Short.BYTES + 4 * Long.BYTES;

    private static final short VERSION = 0;

    private TornIndexes() {}

    /** To be called while no Kafka runs on {@code logDirectory}. */
    static void remove(Path logDirectory) throws IOException {
        if (!Files.isDirectory(logDirectory)) {
            return;
        }
        try (Stream<Path> found = Files.find(
                logDirectory,
                2,
                (file, attributes) -> attributes.isRegularFile()
                        && file.getFileName().toString().endsWith(ABORTED))) {
            for (Path index : found.toList()) {
                if (isTorn(index)) {
                    LOG.warn("{} is torn: the indexes of its segment are made anew", index);
                    removeAllOf(index);
                }
            }
        }
    }

    private static boolean isTorn(Path index) throws IOException {
        byte[] bytes = Files.readAllBytes(index);
        if (bytes.length % ENTRY_BYTES != 0) {
            return true;
        }
        ByteBuffer entries = ByteBuffer.wrap(bytes);
        long before = -1;
        for (int at = 0; at < bytes.length; at += ENTRY_BYTES) {
            long first = entries.getLong(at + Short.BYTES + Long.BYTES);
            long last = entries.getLong(at + Short.BYTES + 2 * Long.BYTES);
            if (entries.getShort(at) != VERSION || first < 0 || last < first || last < before) {
                return true;
            }
            before = last;
        }
        return false;
    }

    private static void removeAllOf(Path index) throws IOException {
        String name = index.getFileName().toString();
        String segment = name.substring(0, name.length() - ABORTED.length());
        for (String end : List.of(ABORTED, ".index", ".timeindex")) {
            Files.deleteIfExists(index.resolveSibling(segment + end));
        }
    }
}
