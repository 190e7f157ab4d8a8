package dev.rimecast.simulator.gateway;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.StandardOpenOption;
import java.util.Optional;

/** Reads a segment from a pack on, one after the other, up to where it ends or is not whole. */
final class SegmentReader implements AutoCloseable {
    private final Segment segment;
    private final FileChannel channel;
    private long position;
    private long lastRead;

    private SegmentReader(Segment segment, FileChannel channel) {
        this.segment = segment;
        this.channel = channel;
        this.position = segment.firstRecordAt();
        this.lastRead = segment.first() - 1;
    }

    /** @param after the next pack is the one behind this number */
    static SegmentReader open(Segment segment, long after) throws IOException {
        SegmentReader reader = new SegmentReader(segment, FileChannel.open(segment.file(), StandardOpenOption.READ));
        while (reader.lastRead < after && reader.next().isPresent()) {
            // Passed over.
        }
        return reader;
    }

    void scan() throws IOException {
        while (next().isPresent()) {
            // To the end.
        }
    }

    Optional<PackStore.Numbered> next() throws IOException {
        ByteBuffer header = ByteBuffer.allocate(Segment.RECORD_HEADER_BYTES);
        if (!Segment.readAll(channel, header, position)) {
            return Optional.empty();
        }
        int length = header.getInt(0);
        long seq = header.getLong(8);
        if (length < 0 || length > Segment.MOST_PAYLOAD_BYTES || seq != lastRead + 1) {
            return Optional.empty();
        }
        ByteBuffer payload = ByteBuffer.allocate(length);
        if (!Segment.readAll(channel, payload, position + Segment.RECORD_HEADER_BYTES)
                || Segment.checksum(seq, payload.array()) != header.getInt(4)) {
            return Optional.empty();
        }
        position += Segment.RECORD_HEADER_BYTES + length;
        lastRead = seq;
        return Optional.of(new PackStore.Numbered(seq, payload.array()));
    }

    Segment segment() {
        return segment;
    }

    /** Number of the pack that was read last. */
    long lastRead() {
        return lastRead;
    }

    /** Behind the pack that was read last. */
    long position() {
        return position;
    }

    @Override
    public void close() throws IOException {
        channel.close();
    }
}
