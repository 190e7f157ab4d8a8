package dev.rimecast.alerts.notice.send;

import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import javax.net.SocketFactory;

/**
 * The sockets of one attempt, which end with it. A time limit for each read ends nothing where a byte comes now and then; closing the socket
 * does, whoever is waiting for it.
 */
final class CutSockets extends SocketFactory {
    private final Queue<Socket> sockets = new ConcurrentLinkedQueue<>();
    private volatile boolean isCut;

    /** Ends what waits, and what begins. */
    void cut() {
        isCut = true;
        for (Socket socket : sockets) {
            try {
                socket.close();
            } catch (IOException e) {
                // Closed is closed.
            }
        }
    }

    boolean isCut() {
        return isCut;
    }

    private Socket known(Socket socket) throws IOException {
        sockets.add(socket);
        if (isCut) {
            socket.close();
        }
        return socket;
    }

    @Override
    public Socket createSocket() throws IOException {
        return known(new Socket());
    }

    @Override
    public Socket createSocket(String host, int port) throws IOException {
        return known(new Socket(host, port));
    }

    @Override
    public Socket createSocket(String host, int port, InetAddress localHost, int localPort) throws IOException {
        return known(new Socket(host, port, localHost, localPort));
    }

    @Override
    public Socket createSocket(InetAddress host, int port) throws IOException {
        return known(new Socket(host, port));
    }

    @Override
    public Socket createSocket(InetAddress host, int port, InetAddress localHost, int localPort) throws IOException {
        return known(new Socket(host, port, localHost, localPort));
    }
}
