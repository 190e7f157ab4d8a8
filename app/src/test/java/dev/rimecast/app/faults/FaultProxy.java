package dev.rimecast.app.faults;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/**
 * Stands between clients and a server and spoils the line. What was swallowed can't come again on the same connection, so
 * a change back to {@link Mode#PASS} resets those that were spoiled, as a stateful box on the way would.
 */
final class FaultProxy implements AutoCloseable {
    /** How the line is. */
    enum Mode {
        PASS,
        /** Takes everything from both ends and passes nothing on. */
        BLACK_HOLE,
        /** The server's end is closed, the client's stays open and hears nothing. */
        HALF_OPEN,
        /** Every connection is reset as soon as something comes. */
        RESET,
        /** About 4 kB a second in each direction. */
        SLOW
    }

    private static final int SLOW_BYTES = 400;
    private static final int SLOW_MILLIS = 100;

    /** One connection. */
    private static final class Pair {
        final Socket gateway;
        final Socket server;
        volatile boolean isSpoiled;

        Pair(Socket gateway, Socket server) {
            this.gateway = gateway;
            this.server = server;
        }
    }

    private final ServerSocket listener;
    private volatile int target;
    private final List<Pair> pairs = new CopyOnWriteArrayList<>();
    private final CountDownLatch closed = new CountDownLatch(1);
    private volatile Mode mode = Mode.PASS;

    /** Leads to {@code target} on this machine. */
    FaultProxy(int target) throws IOException {
        this();
        this.target = target;
    }

    /** Leads nowhere yet: for a server that has to know the line's port before it starts. */
    FaultProxy() throws IOException {
        this.listener = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());
        run("fault-proxy", this::accept);
    }

    void leadTo(int port) {
        target = port;
    }

    int port() {
        return listener.getLocalPort();
    }

    void be(Mode next) {
        mode = next;
        for (Pair pair : pairs) {
            switch (next) {
                case PASS -> {
                    if (pair.isSpoiled) {
                        reset(pair);
                    }
                }
                case HALF_OPEN -> {
                    pair.isSpoiled = true;
                    quietly(pair.server);
                }
                case BLACK_HOLE -> pair.isSpoiled = true;
                case RESET -> reset(pair);
                case SLOW -> {
                    // The threads see to it.
                }
            }
        }
    }

    private void accept() throws IOException {
        while (true) {
            Socket gateway = listener.accept();
            try {
                Pair pair = new Pair(gateway, new Socket(InetAddress.getLoopbackAddress(), target));
                pair.isSpoiled = mode == Mode.BLACK_HOLE || mode == Mode.HALF_OPEN;
                pairs.add(pair);
                run("fault-proxy-up", () -> pump(pair, pair.gateway, pair.server));
                run("fault-proxy-down", () -> pump(pair, pair.server, pair.gateway));
            } catch (IOException away) {
                quietly(gateway);
            }
        }
    }

    private void pump(Pair pair, Socket from, Socket to) throws IOException {
        byte[] buffer = new byte[8192];
        try {
            InputStream in = from.getInputStream();
            OutputStream out = to.getOutputStream();
            while (true) {
                int read = in.read(buffer, 0, mode == Mode.SLOW ? SLOW_BYTES : buffer.length);
                if (read < 0) {
                    break;
                }
                if (mode == Mode.RESET) {
                    reset(pair);
                    break;
                }
                if (pair.isSpoiled) {
                    continue;
                }
                if (mode == Mode.SLOW) {
                    if (closed.await(SLOW_MILLIS, TimeUnit.MILLISECONDS)) {
                        break;
                    }
                }
                out.write(buffer, 0, read);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } finally {
            // Half open: the gateway is not to hear that the server has gone.
            if (!pair.isSpoiled || from == pair.gateway) {
                quietly(pair.gateway);
                quietly(pair.server);
                pairs.remove(pair);
            }
        }
    }

    private void reset(Pair pair) {
        for (Socket socket : List.of(pair.gateway, pair.server)) {
            try {
                // Closed with something unsent means RST.
                socket.setSoLinger(true, 0);
            } catch (IOException closed) {
                // Is what was wanted.
            }
            quietly(socket);
        }
        pairs.remove(pair);
    }

    private static void quietly(Socket socket) {
        try {
            socket.close();
        } catch (IOException e) {
            // Closed is closed.
        }
    }

    /** What a thread of this proxy does. */
    private interface Work {
        void run() throws IOException;
    }

    private static void run(String name, Work work) {
        Thread thread = new Thread(
                () -> {
                    try {
                        work.run();
                    } catch (IOException ended) {
                        // The connection or the proxy has ended.
                    }
                },
                name);
        thread.setDaemon(true);
        thread.start();
    }

    @Override
    public void close() throws IOException {
        closed.countDown();
        listener.close();
        pairs.forEach(this::reset);
    }
}
