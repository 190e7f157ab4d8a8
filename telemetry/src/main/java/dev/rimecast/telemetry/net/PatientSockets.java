package dev.rimecast.telemetry.net;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketAddress;
import java.net.SocketTimeoutException;
import java.util.concurrent.TimeUnit;
import javax.net.SocketFactory;

/**
 * Sockets that tell of the end of a line no sooner than a second after it was made. Eclipse Paho 1.2.5 starts a thread that
 * reads, and looks every 100 ms whether it runs; one that has found the line closed by then is waited for for ever, by a thread that can't be ended. Behind a proxy
 * that takes connections for a server that is away, each attempt left such a thread.
 */
public final class PatientSockets extends SocketFactory {
    /** Ten looks of the library. */
    private static final long YOUNG_NANOS = TimeUnit.SECONDS.toNanos(1);

    @Override
    public Socket createSocket() {
        return new Patient();
    }

    @Override
    public Socket createSocket(String host, int port) throws IOException {
        return connected(new InetSocketAddress(host, port));
    }

    @Override
    public Socket createSocket(String host, int port, InetAddress localHost, int localPort) throws IOException {
        return connected(new InetSocketAddress(host, port), new InetSocketAddress(localHost, localPort));
    }

    @Override
    public Socket createSocket(InetAddress host, int port) throws IOException {
        return connected(new InetSocketAddress(host, port));
    }

    @Override
    public Socket createSocket(InetAddress host, int port, InetAddress localHost, int localPort) throws IOException {
        return connected(new InetSocketAddress(host, port), new InetSocketAddress(localHost, localPort));
    }

    private static Socket connected(SocketAddress to) throws IOException {
        Socket socket = new Patient();
        socket.connect(to);
        return socket;
    }

    private static Socket connected(SocketAddress to, SocketAddress from) throws IOException {
        Socket socket = new Patient();
        socket.bind(from);
        socket.connect(to);
        return socket;
    }

    private static final class Patient extends Socket {
        private long connectedNanos = System.nanoTime();

        @Override
        public void connect(SocketAddress endpoint, int timeoutMillis) throws IOException {
            super.connect(endpoint, timeoutMillis);
            connectedNanos = System.nanoTime();
        }

        @Override
        public InputStream getInputStream() throws IOException {
            return new PatientStream(super.getInputStream(), connectedNanos);
        }
    }

    private static final class PatientStream extends FilterInputStream {
        private final long connectedNanos;

        PatientStream(InputStream in, long connectedNanos) {
            super(in);
            this.connectedNanos = connectedNanos;
        }

        @Override
        public int read() throws IOException {
            byte[] one = new byte[1];
            return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
        }

        @Override
        public int read(byte[] bytes, int offset, int length) throws IOException {
            try {
                int read = super.read(bytes, offset, length);
                if (read < 0) {
                    waitUntilOld();
                }
                return read;
            } catch (SocketTimeoutException e) {
                // Not the end: nothing came for a while.
                throw e;
            } catch (IOException e) {
                waitUntilOld();
                throw e;
            }
        }

        private void waitUntilOld() {
            try {
                TimeUnit.NANOSECONDS.sleep(connectedNanos + YOUNG_NANOS - System.nanoTime());
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }
    }
}
