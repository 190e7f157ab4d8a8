package dev.rimecast.ingest;

import java.io.DataInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * Stands between a client and a broker, passes everything on, and writes down which messages the broker sent and which
 * of them were acknowledged, by their packet ids. Can cut all connections. Packets are read by MQTT 5 section 2.1.
 */
final class WireTap implements AutoCloseable {
    private static final int PUBLISH = 3;
    private static final int PUBACK = 4;

    /** What one connection saw. */
    static final class Wire {
        /** Packet ids of QoS 1 messages, as the broker sent them. */
        final List<Integer> sent = new CopyOnWriteArrayList<>();
        /** Packet ids, as they were acknowledged. */
        final List<Integer> acknowledged = new CopyOnWriteArrayList<>();

        private final Socket client;
        private final Socket broker;

        Wire(Socket client, Socket broker) {
            this.client = client;
            this.broker = broker;
        }

        private void cut() {
            for (Socket socket : List.of(client, broker)) {
                try {
                    socket.close();
                } catch (IOException e) {
                    throw new IllegalStateException(e);
                }
            }
        }
    }

    final List<Wire> wires = new CopyOnWriteArrayList<>();
    private final ServerSocket server;
    private final int brokerPort;
    private volatile int cutAt;
    private final AtomicInteger cutsLeft = new AtomicInteger();

    WireTap(int brokerPort) throws IOException {
        this.brokerPort = brokerPort;
        server = new ServerSocket(0, 10, InetAddress.getLoopbackAddress());
        run("tap", this::accept);
    }

    int port() {
        return server.getLocalPort();
    }

    /** Acknowledgements on all connections so far. */
    int acknowledged() {
        return wires.stream().mapToInt(wire -> wire.acknowledged.size()).sum();
    }

    int sent() {
        return wires.stream().mapToInt(wire -> wire.sent.size()).sum();
    }

    /** Breaks every connection. */
    void cut() {
        wires.forEach(Wire::cut);
    }

    /**
     * Breaks each of the next {@code cuts} connections with its {@code acknowledged}-th acknowledgement, which still
     * gets through: whoever waits for a count and cuts then comes too late when all is done between two looks.
     */
    void cutAfter(int acknowledged, int cuts) {
        cutAt = acknowledged;
        cutsLeft.set(cuts);
    }

    private void accept() throws IOException {
        while (true) {
            Socket client = server.accept();
            Socket broker;
            try {
                broker = new Socket(InetAddress.getLoopbackAddress(), brokerPort);
            } catch (IOException away) {
                client.close();
                continue;
            }
            Wire wire = new Wire(client, broker);
            wires.add(wire);
            run("tap-up", () -> pass(wire, client, broker, wire.acknowledged, PUBACK));
            run("tap-down", () -> pass(wire, broker, client, wire.sent, PUBLISH));
        }
    }

    private void pass(Wire wire, Socket from, Socket to, List<Integer> noted, int kind) {
        try (from;
                to) {
            DataInputStream in = new DataInputStream(from.getInputStream());
            OutputStream out = to.getOutputStream();
            while (true) {
                int first = in.readUnsignedByte();
                List<Integer> length = new ArrayList<>();
                int rest = 0;
                do {
                    length.add(in.readUnsignedByte());
                    rest |= (length.get(length.size() - 1) & 0x7F) << (7 * (length.size() - 1));
                } while (length.get(length.size() - 1) >= 0x80);
                byte[] body = in.readNBytes(rest);
                if (body.length < rest) {
                    throw new EOFException();
                }
                if (first >> 4 == kind && (kind == PUBACK || (first & 0x06) != 0)) {
                    int at = kind == PUBACK ? 0 : 2 + number(body, 0);
                    noted.add(number(body, at));
                }
                out.write(first);
                for (int part : length) {
                    out.write(part);
                }
                out.write(body);
                out.flush();
                if (kind == PUBACK && noted.size() == cutAt && cutsLeft.getAndUpdate(n -> Math.max(0, n - 1)) > 0) {
                    wire.cut();
                }
            }
        } catch (IOException over) {
            wire.cut();
        }
    }

    private static int number(byte[] body, int at) {
        return (body[at] & 0xFF) << 8 | (body[at + 1] & 0xFF);
    }

    /** A thing that ends with its socket. */
    private interface Job {
        void run() throws IOException;
    }

    private static void run(String name, Job job) {
        Thread thread = new Thread(
                () -> {
                    try {
                        job.run();
                    } catch (IOException over) {
                        // The socket was closed: nothing more to do.
                    }
                },
                name);
        thread.setDaemon(true);
        thread.start();
    }

    @Override
    public void close() throws IOException {
        server.close();
        cut();
    }
}
