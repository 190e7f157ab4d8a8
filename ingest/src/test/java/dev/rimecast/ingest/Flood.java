package dev.rimecast.ingest;

import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;

/** An MQTT 3.1.1 client that never waits for a receipt; layouts: MQTT 3.1.1 sections 3.1 to 3.4. */
final class Flood implements AutoCloseable {
    private final Socket socket;

    Flood(int port) throws IOException {
        socket = new Socket(InetAddress.getLoopbackAddress(), port);
        socket.setSoTimeout(120_000);
        // CONNECT: protocol MQTT level 4, clean session, no keep-alive, client id "f".
        socket.getOutputStream().write(new byte[] {0x10, 13, 0, 4, 'M', 'Q', 'T', 'T', 4, 2, 0, 0, 0, 1, 'f'});
        byte[] answer = socket.getInputStream().readNBytes(4);
        if (answer[3] != 0) {
            throw new IOException("CONNECT was refused with " + answer[3]);
        }
    }

    /** QoS 1 with packet ids from 1. Blocks where the other side does not read. */
    void publish(String topic, byte[] payload, int messages) {
        byte[] name = topic.getBytes(StandardCharsets.US_ASCII);
        int length = 2 + name.length + 2 + payload.length;
        try {
            for (int id = 1; id <= messages; id++) {
                ByteArrayOutputStream packet = new ByteArrayOutputStream();
                packet.write(0x32);
                packet.write(length % 128 | 0x80);
                packet.write(length / 128);
                packet.write(0);
                packet.write(name.length);
                packet.write(name);
                packet.write(id >> 8);
                packet.write(id);
                packet.write(payload);
                socket.getOutputStream().write(packet.toByteArray());
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Packet ids of the PUBACKs, in the order in which they come. */
    List<Integer> readReceipts(int count) throws IOException {
        DataInputStream in = new DataInputStream(socket.getInputStream());
        List<Integer> ids = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            int header = in.readUnsignedByte();
            int length = in.readUnsignedByte();
            if (header != 0x40 || length != 2) {
                throw new IOException("not a PUBACK: " + header + " of length " + length);
            }
            ids.add(in.readUnsignedShort());
        }
        return ids;
    }

    @Override
    public void close() throws IOException {
        socket.close();
    }
}
