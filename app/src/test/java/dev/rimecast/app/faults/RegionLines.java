package dev.rimecast.app.faults;

import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

/**
 * A connection for each gateway of a region, ended all at once as their power is. The little of MQTT 3.1.1 that this takes is written
 * here, without a thread for each, so that there can be many.
 */
final class RegionLines implements AutoCloseable {
    private static final int LIMIT_MILLIS = 120_000;
    private static final int CONNECT = 0x10;
    private static final int CONNACK = 0x20;
    /** With the receipt that QoS 1 has. */
    private static final int PUBLISH = 0x32;

    private static final int PUBACK = 0x40;
    /** Clean session, will, will of QoS 1, will retained. */
    private static final int FLAGS = 0x02 | 0x04 | 0x08 | 0x20;

    private static final int KEEP_ALIVE_SECONDS = 600;

    private final Map<String, Socket> sockets = new LinkedHashMap<>();
    private final Map<String, Integer> waiting = new LinkedHashMap<>();

    /** Connects every gateway, and waits for the answers only when all have asked. */
    RegionLines(int port, List<Region.Site> sites) throws IOException {
        for (Region.Site site : sites) {
            Socket socket = new Socket(InetAddress.getLoopbackAddress(), port);
            socket.setSoTimeout(LIMIT_MILLIS);
            socket.setTcpNoDelay(true);
            sockets.put(site.gateway(), socket);
            send(socket, CONNECT, body -> {
                body.writeUTF("MQTT");
                body.writeByte(4);
                body.writeByte(FLAGS);
                body.writeShort(KEEP_ALIVE_SECONDS);
                body.writeUTF(site.gateway());
                body.writeUTF("fleet/" + site.gateway() + "/presence");
                body.writeUTF("offline");
            });
        }
        for (Socket socket : sockets.values()) {
            answer(socket, CONNACK);
        }
    }

    void publish(Region.Site site, List<Reading> readings) throws IOException {
        send(Objects.requireNonNull(sockets.get(site.gateway())), PUBLISH, body -> {
            body.writeUTF("fleet/" + site.gateway() + "/senml");
            body.writeShort(1);
            body.write(SenmlJsonEncoder.encode(readings));
        });
        waiting.merge(site.gateway(), 1, Integer::sum);
    }

    /** Returns when everything that was published has its receipt. */
    void awaitReceipts() throws IOException {
        for (Map.Entry<String, Integer> each : waiting.entrySet()) {
            for (int left = each.getValue(); left > 0; left--) {
                answer(Objects.requireNonNull(sockets.get(each.getKey())), PUBACK);
            }
        }
        waiting.clear();
    }

    /** What a packet has behind its length. */
    private interface Body {
        void write(DataOutputStream out) throws IOException;
    }

    private static void send(Socket socket, int type, Body body) throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        body.write(new DataOutputStream(bytes));
        ByteArrayOutputStream packet = new ByteArrayOutputStream();
        packet.write(type);
        int length = bytes.size();
        do {
            packet.write(length % 128 | (length >= 128 ? 0x80 : 0));
            length /= 128;
        } while (length > 0);
        bytes.writeTo(packet);
        socket.getOutputStream().write(packet.toByteArray());
    }

    /** CONNACK and PUBACK have two bytes behind their length. */
    private static void answer(Socket socket, int type) throws IOException {
        byte[] answer = new byte[4];
        new DataInputStream(socket.getInputStream()).readFully(answer);
        if (answer[0] != type || (type == CONNACK && answer[3] != 0)) {
            throw new IOException("not the answer to wait for: " + java.util.Arrays.toString(answer));
        }
    }

    /** The power goes: no gateway says goodbye. */
    @Override
    public void close() throws IOException {
        for (Socket socket : sockets.values()) {
            socket.setSoLinger(true, 0);
            socket.close();
        }
    }
}
