package dev.rimecast.app.backup;

import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.util.Optional;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.common.header.Header;
import org.apache.kafka.common.header.Headers;
import org.apache.kafka.common.header.internals.RecordHeaders;
import org.jspecify.annotations.Nullable;

/**
 * A record of a topic in an archive: offset and time stamp (8 bytes each, big-endian), key, value, number of headers (4 bytes)
 * and each header's name and value; every text and byte array with its length before it (4 bytes, -1 for none).
 */
final class RecordCodec {
    private static final int MOST_BYTES = 64 << 20;

    private RecordCodec() {}

    /** @param offset where it was */
    @SuppressWarnings("ArrayRecordComponent") // carried, never compared
    record Stored(long offset, long timestamp, byte @Nullable [] key, byte @Nullable [] value, Headers headers) {}

    static void write(DataOutputStream out, ConsumerRecord<byte[], byte[]> found) throws IOException {
        out.writeLong(found.offset());
        out.writeLong(found.timestamp());
        write(out, found.key());
        write(out, found.value());
        Header[] headers = found.headers().toArray();
        out.writeInt(headers.length);
        for (Header header : headers) {
            out.writeUTF(header.key());
            write(out, header.value());
        }
    }

    private static void write(DataOutputStream out, byte @Nullable [] bytes) throws IOException {
        out.writeInt(bytes == null ? -1 : bytes.length);
        if (bytes != null) {
            out.write(bytes);
        }
    }

    /** The next one, or none at the end. */
    static Optional<Stored> read(DataInputStream in) throws IOException {
        int first = in.read();
        if (first < 0) {
            return Optional.empty();
        }
        long offset = ((long) first << 56)
                | ((long) in.readUnsignedByte() << 48)
                | (in.readUnsignedShort() * (1L << 32))
                | Integer.toUnsignedLong(in.readInt());
        long timestamp = in.readLong();
        byte[] key = bytes(in);
        byte[] value = bytes(in);
        Headers headers = new RecordHeaders();
        int count = in.readInt();
        for (int i = 0; i < count; i++) {
            String name = in.readUTF();
            headers.add(name, bytes(in));
        }
        return Optional.of(new Stored(offset, timestamp, key, value, headers));
    }

    private static byte @Nullable [] bytes(DataInputStream in) throws IOException {
        int length = in.readInt();
        if (length < -1 || length > MOST_BYTES) {
            throw new IOException("a length of " + length + " bytes is none");
        }
        return length < 0 ? null : in.readNBytes(length);
    }
}
