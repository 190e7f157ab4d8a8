package dev.rimecast.ingest.mqtt;

import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;

/** MQTT by the byte, for what well-behaved clients never do. Layouts: MQTT 3.1.1 sections 2 and 3, MQTT 5.0 likewise. */
final class RawClient implements AutoCloseable {
    static final int CONNACK = 0x20;
    static final int PUBACK = 0x40;
    static final int DISCONNECT = 0xE0;

    /** A packet as it came: type and flags, and everything behind the remaining length. */
    @SuppressWarnings("ArrayRecordComponent") // carried, never compared
    record Packet(int header, byte[] body) {}

    private final Socket socket;
    private final DataInputStream in;
    private final OutputStream out;
    private final boolean is5;

    RawClient(int port, boolean is5) throws IOException {
        this.is5 = is5;
        socket = new Socket(InetAddress.getLoopbackAddress(), port);
        socket.setSoTimeout(10_000);
        in = new DataInputStream(socket.getInputStream());
        out = socket.getOutputStream();
    }

    Packet connect(String clientId) throws IOException {
        return connect(clientId, 60);
    }

    /** CONNECT with clean session; returns the CONNACK. */
    Packet connect(String clientId, int keepAliveSeconds) throws IOException {
        ByteArrayOutputStream body = new ByteArrayOutputStream();
        text(body, "MQTT");
        body.write(is5 ? 5 : 4);
        body.write(0x02);
        body.write(0);
        body.write(keepAliveSeconds);
        if (is5) {
            body.write(0);
        }
        text(body, clientId);
        send(0x10, body.toByteArray());
        return read();
    }

    void publish(int qos, int packetId, String topic, byte[] payload) throws IOException {
        ByteArrayOutputStream body = new ByteArrayOutputStream();
        text(body, topic);
        if (qos > 0) {
            body.write(packetId >> 8);
            body.write(packetId & 0xff);
        }
        if (is5) {
            body.write(0);
        }
        body.write(payload);
        send(0x30 | (qos << 1), body.toByteArray());
    }

    /** The beginning of a PUBLISH at QoS 1, up to its payload, of which nothing comes. */
    void announce(int packetId, String topic, int payload) throws IOException {
        ByteArrayOutputStream body = new ByteArrayOutputStream();
        text(body, topic);
        body.write(packetId >> 8);
        body.write(packetId & 0xff);
        if (is5) {
            body.write(0);
        }
        send(0x32, body.toByteArray(), body.size() + payload);
    }

    /** SUBSCRIBE to one topic. */
    void subscribe(int packetId, String topic, int qos) throws IOException {
        ByteArrayOutputStream body = new ByteArrayOutputStream();
        body.write(packetId >> 8);
        body.write(packetId & 0xff);
        if (is5) {
            body.write(0);
        }
        text(body, topic);
        body.write(qos);
        send(0x82, body.toByteArray());
    }

    /** PUBACK. */
    void acknowledge(int packetId) throws IOException {
        send(PUBACK, new byte[] {(byte) (packetId >> 8), (byte) packetId});
    }

    void send(int header, byte[] body) throws IOException {
        send(header, body, body.length);
    }

    private void send(int header, byte[] body, int saidLength) throws IOException {
        ByteArrayOutputStream packet = new ByteArrayOutputStream();
        packet.write(header);
        int length = saidLength;
        do {
            packet.write((length % 128) | (length >= 128 ? 0x80 : 0));
            length /= 128;
        } while (length > 0);
        packet.write(body);
        out.write(packet.toByteArray());
        out.flush();
    }

    /** The next packet; an end of the connection is an EOFException or a SocketException. */
    Packet read() throws IOException {
        int header = in.readUnsignedByte();
        int length = 0;
        int shift = 0;
        int digit;
        do {
            digit = in.readUnsignedByte();
            length |= (digit & 0x7f) << shift;
            shift += 7;
        } while ((digit & 0x80) != 0);
        return new Packet(header, in.readNBytes(length));
    }

    private static void text(ByteArrayOutputStream body, String text) {
        byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
        body.write(bytes.length >> 8);
        body.write(bytes.length & 0xff);
        body.writeBytes(bytes);
    }

    @Override
    public void close() throws IOException {
        socket.close();
    }
}
