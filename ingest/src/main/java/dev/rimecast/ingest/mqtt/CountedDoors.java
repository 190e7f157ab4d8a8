package dev.rimecast.ingest.mqtt;

import io.netty.channel.ChannelFactory;
import io.netty.channel.ServerChannel;
import io.netty.channel.socket.SocketChannel;
import io.netty.channel.socket.nio.NioServerSocketChannel;
import io.vertx.core.impl.transports.NioTransport;
import io.vertx.core.transport.Transport;
import java.net.InetAddress;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicLong;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Takes connections from the system, at most so many of one address at a time. What is over is closed before a byte of it is read, so
 * neither a TLS handshake nor the seconds that a CONNECT may take are spent on it.
 */
final class CountedDoors implements Transport {
    private static final Logger log = LoggerFactory.getLogger(CountedDoors.class);
    private static final long TELL_EVERY_NANOS = 60_000_000_000L;

    private final int mostOfAnAddress;
    private final Map<InetAddress, Integer> open = new ConcurrentHashMap<>();
    private final AtomicLong turnedAway = new AtomicLong();
    private final AtomicLong toldAt = new AtomicLong();

    /** @param mostOfAnAddress 0: any number */
    CountedDoors(int mostOfAnAddress) {
        this.mostOfAnAddress = mostOfAnAddress;
    }

    /** Connections that were closed at once, since the start. */
    long turnedAway() {
        return turnedAway.get();
    }

    /** Addresses that have a connection. */
    int addresses() {
        return open.size();
    }

    @Override
    public String name() {
        return "counted";
    }

    @Override
    public boolean available() {
        return true;
    }

    @Override
    @SuppressWarnings("NullAway") // as the interface has it: there is no cause
    public Throwable unavailabilityCause() {
        return null;
    }

    @Override
    public io.vertx.core.spi.transport.Transport implementation() {
        return new Counted();
    }

    private boolean comesIn(InetAddress from) {
        int now = open.merge(from, 1, Integer::sum);
        if (mostOfAnAddress == 0 || now <= mostOfAnAddress) {
            return true;
        }
        goes(from);
        turnedAway.incrementAndGet();
        tell(from);
        return false;
    }

    /** A line a minute, whoever they are: a crowd at the door must not fill the log. */
    private void tell(InetAddress from) {
        long now = System.nanoTime();
        long before = toldAt.get();
        if ((before == 0 || now - before > TELL_EVERY_NANOS) && toldAt.compareAndSet(before, now)) {
            log.warn(
                    "{} has {} connections, as many as mqtt.connections-per-address allows: more are closed unread; a fleet behind one router may need more",
                    from.getHostAddress(),
                    mostOfAnAddress);
        }
    }

    private void goes(InetAddress from) {
        open.computeIfPresent(from, (any, count) -> count == 1 ? null : count - 1);
    }

    private final class Counted extends NioTransport {
        @Override
        public ChannelFactory<? extends ServerChannel> serverChannelFactory(boolean domainSocket) {
            return domainSocket ? super.serverChannelFactory(true) : () -> new Door();
        }
    }

    private final class Door extends NioServerSocketChannel {
        @Override
        protected int doReadMessages(List<Object> accepted) throws Exception {
            int before = accepted.size();
            int came = super.doReadMessages(accepted);
            Iterator<Object> fresh = accepted.listIterator(before);
            while (fresh.hasNext()) {
                // Who has gone again already has no address any more, and nothing to count.
                if (fresh.next() instanceof SocketChannel channel && channel.remoteAddress() != null) {
                    InetAddress from = channel.remoteAddress().getAddress();
                    if (comesIn(from)) {
                        channel.closeFuture().addListener(unused -> goes(from));
                    } else {
                        fresh.remove();
                        channel.unsafe().closeForcibly();
                    }
                }
            }
            return came;
        }
    }
}
