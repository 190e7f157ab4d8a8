package dev.rimecast.simulator.gateway;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Optional;
import java.util.zip.CRC32C;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * One file of a store. It begins with {@code RPK1}, the length of the boot in two bytes, and the boot in UTF-8; then
 * records: length of the payload (4 bytes), CRC-32C of number and payload (4), number (8), payload. Big-endian.
 */
final class Segment {
    static final int RECORD_HEADER_BYTES = 16;
    /** Of the contract: no larger payload is taken. */
    static final int MOST_PAYLOAD_BYTES = 256 * 1024;

    private static final Logger LOG = LoggerFactory.getLogger(Segment.class);
    private static final int MAGIC = 0x52504B31;
    private static final int HEADER_BYTES = 6;
    private static final String PREFIX = "packs-";
    private static final String SUFFIX = ".log";

    private final Path file;
    private final String boot;
    private final long first;
    private long last;
    private long bytes;
    private @Nullable FileChannel writing;

    private Segment(Path file, String boot, long first) {
        this.file = file;
        this.boot = boot;
        this.first = first;
        this.last = first - 1;
        this.bytes = HEADER_BYTES + boot.getBytes(StandardCharsets.UTF_8).length;
    }

    static boolean isOne(Path file) {
        String name = file.getFileName().toString();
        return name.startsWith(PREFIX) && name.endsWith(SUFFIX);
    }

    /** A new one, on disk with its name. */
    static Segment begin(Path directory, String boot, long first) throws IOException {
        Segment segment = new Segment(directory.resolve(PREFIX + "%019d".formatted(first) + SUFFIX), boot, first);
        byte[] name = boot.getBytes(StandardCharsets.UTF_8);
        ByteBuffer header = ByteBuffer.allocate(HEADER_BYTES + name.length);
        header.putInt(MAGIC).putShort((short) name.length).put(name).flip();
        FileChannel channel = FileChannel.open(segment.file, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
        segment.writing = channel;
        writeAll(channel, header, 0);
        channel.force(true);
        forceName(directory);
        return segment;
    }

    /** A new file's name is in its directory, which is written apart. Not every system has a way to say so. */
    private static void forceName(Path directory) {
        try (FileChannel names = FileChannel.open(directory, StandardOpenOption.READ)) {
            names.force(true);
        } catch (IOException e) {
            LOG.debug("{}: a directory can't be forced here", directory, e);
        }
    }

    /** One that is there, read as far as it is whole; empty, and deleted, if not even its beginning is. */
    static Optional<Segment> open(Path file) throws IOException {
        String name = file.getFileName().toString();
        long first;
        try {
            first = Long.parseLong(name.substring(PREFIX.length(), name.length() - SUFFIX.length()));
        } catch (NumberFormatException e) {
            throw new IOException(file + " is no file of a store", e);
        }
        Optional<String> boot = bootOf(file);
        if (boot.isEmpty()) {
            LOG.warn("{} was torn at its beginning and is deleted; nothing of it had been sent", file);
            Files.delete(file);
            return Optional.empty();
        }
        Segment segment = new Segment(file, boot.get(), first);
        try (SegmentReader reader = SegmentReader.open(segment, first - 1)) {
            reader.scan();
            segment.last = reader.lastRead();
            segment.bytes = reader.position();
        }
        return Optional.of(segment);
    }

    private static Optional<String> bootOf(Path file) throws IOException {
        try (FileChannel channel = FileChannel.open(file, StandardOpenOption.READ)) {
            ByteBuffer header = ByteBuffer.allocate(HEADER_BYTES);
            if (!readAll(channel, header, 0) || header.getInt(0) != MAGIC) {
                return Optional.empty();
            }
            ByteBuffer name = ByteBuffer.allocate(header.getShort(4) & 0xFFFF);
            return readAll(channel, name, HEADER_BYTES)
                    ? Optional.of(StandardCharsets.UTF_8.decode(name.flip()).toString())
                    : Optional.empty();
        }
    }

    /** Of the newest segment after a restart: what is not whole goes, and writing goes on behind what is. */
    void cutTornTail() throws IOException {
        FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE);
        long torn = channel.size() - bytes;
        if (torn > 0) {
            LOG.warn("{}: the last {} bytes were torn and are cut off; nothing of them had been sent", file, torn);
            channel.truncate(bytes);
            channel.force(true);
        }
        writing = channel;
    }

    /** Appends a pack with the next number; not forced to disk yet. */
    long append(byte[] payload) throws IOException {
        if (payload.length > MOST_PAYLOAD_BYTES) {
            throw new IllegalArgumentException("a pack of " + payload.length + " bytes is taken by nobody");
        }
        FileChannel channel = channel();
        long seq = last + 1;
        ByteBuffer entry = ByteBuffer.allocate(RECORD_HEADER_BYTES + payload.length);
        entry.putInt(payload.length)
                .putInt(checksum(seq, payload))
                .putLong(seq)
                .put(payload)
                .flip();
        try {
            writeAll(channel, entry, bytes);
        } catch (IOException e) {
            // A full disk may have taken half of it.
            channel.truncate(bytes);
            throw e;
        }
        bytes += RECORD_HEADER_BYTES + payload.length;
        last = seq;
        return seq;
    }

    private FileChannel channel() {
        FileChannel channel = writing;
        if (channel == null) {
            throw new IllegalStateException(file + " is not written to any more");
        }
        return channel;
    }

    void settle() throws IOException {
        channel().force(false);
    }

    void endWriting() throws IOException {
        channel().close();
        writing = null;
    }

    void delete() throws IOException {
        Files.deleteIfExists(file);
    }

    static int checksum(long seq, byte[] payload) {
        CRC32C crc = new CRC32C();
        crc.update(ByteBuffer.allocate(8).putLong(0, seq));
        crc.update(payload);
        return (int) crc.getValue();
    }

    static boolean readAll(FileChannel from, ByteBuffer into, long at) throws IOException {
        while (into.hasRemaining()) {
            if (from.read(into, at + into.position()) < 0) {
                return false;
            }
        }
        return true;
    }

    private static void writeAll(FileChannel to, ByteBuffer from, long at) throws IOException {
        long position = at;
        while (from.hasRemaining()) {
            position += to.write(from, position);
        }
    }

    Path file() {
        return file;
    }

    String boot() {
        return boot;
    }

    /** Number of the first pack, whether it is there yet or not. */
    long first() {
        return first;
    }

    /** Number of the last pack; one less than the first where there is none. */
    long last() {
        return last;
    }

    long bytes() {
        return bytes;
    }

    long firstRecordAt() {
        return HEADER_BYTES + boot.getBytes(StandardCharsets.UTF_8).length;
    }
}
