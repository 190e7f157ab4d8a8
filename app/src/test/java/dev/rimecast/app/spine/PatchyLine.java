package dev.rimecast.app.spine;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;

/** The way from a phone to the server, byte for byte; it can be cut and mended, while the server runs on. */
final class PatchyLine implements AutoCloseable {
    private final int target;
    private final Set<Socket> open = ConcurrentHashMap.newKeySet();
    private ServerSocket listener;

    PatchyLine(int target) throws IOException {
        this.target = target;
        this.listener = listen(0);
    }

    String address() {
        return "http://127.0.0.1:" + listener.getLocalPort();
    }

    /** Nothing answers any more, and what was open is torn. */
    void cut() throws IOException {
        listener.close();
        for (Socket each : open) {
            each.close();
        }
        open.clear();
    }

    void mend() throws IOException {
        listener = listen(listener.getLocalPort());
    }

    private ServerSocket listen(int port) throws IOException {
        ServerSocket socket = new ServerSocket();
        socket.setReuseAddress(true);
        socket.bind(new InetSocketAddress(InetAddress.getLoopbackAddress(), port));
        start("line " + socket.getLocalPort(), () -> accept(socket));
        return socket;
    }

    private void accept(ServerSocket from) {
        try {
            while (true) {
                Socket near = keep(from.accept());
                Socket far = keep(new Socket(InetAddress.getLoopbackAddress(), target));
                start("line there", () -> pump(near, far));
                start("line back", () -> pump(far, near));
            }
        } catch (IOException e) {
            // it was cut
        }
    }

    private Socket keep(Socket socket) {
        open.add(socket);
        return socket;
    }

    private void pump(Socket from, Socket to) {
        try (from;
                to) {
            from.getInputStream().transferTo(to.getOutputStream());
        } catch (IOException e) {
            // one side has gone, or it was cut
        } finally {
            open.remove(from);
            open.remove(to);
        }
    }

    private static void start(String name, Runnable work) {
        Thread thread = new Thread(work, name);
        thread.setDaemon(true);
        thread.start();
    }

    @Override
    public void close() {
        try {
            cut();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
