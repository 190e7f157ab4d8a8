package dev.rimecast.alerts.notice.send;

import java.io.IOException;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketAddress;
import java.util.function.UnaryOperator;
import org.apache.hc.client5.http.DnsResolver;
import org.apache.hc.client5.http.SchemePortResolver;
import org.apache.hc.client5.http.impl.io.DefaultHttpClientConnectionOperator;
import org.apache.hc.client5.http.impl.io.PoolingHttpClientConnectionManagerBuilder;
import org.apache.hc.client5.http.io.HttpClientConnectionOperator;
import org.apache.hc.client5.http.ssl.TlsSocketStrategy;
import org.apache.hc.core5.http.URIScheme;
import org.apache.hc.core5.http.config.RegistryBuilder;

/**
 * Connections that go nowhere inside: the very address that a socket is to connect to is looked at, last of all. So nothing hangs on who asked
 * for the name before, how often, and what a library makes of the answer.
 */
final class GuardedSockets extends PoolingHttpClientConnectionManagerBuilder {
    private final TargetGuard guard;
    private final UnaryOperator<SocketAddress> wires;

    /** @param wires where the packets for an address really go: there, but in tests */
    GuardedSockets(TargetGuard guard, UnaryOperator<SocketAddress> wires) {
        this.guard = guard;
        this.wires = wires;
        setDnsResolver(guard);
    }

    Socket socket() {
        return new Guarded();
    }

    @Override
    protected HttpClientConnectionOperator createConnectionOperator(
            SchemePortResolver ports, DnsResolver names, TlsSocketStrategy tls) {
        return new DefaultHttpClientConnectionOperator(
                unused -> socket(),
                ports,
                names,
                RegistryBuilder.<TlsSocketStrategy>create()
                        .register(URIScheme.HTTPS.id, tls)
                        .build());
    }

    private final class Guarded extends Socket {
        @Override
        public void connect(SocketAddress to, int timeoutMillis) throws IOException {
            if (!(to instanceof InetSocketAddress address)) {
                throw new IOException("webhooks go to addresses of the internet only, this was " + to);
            }
            guard.check(address);
            super.connect(wires.apply(to), timeoutMillis);
        }
    }
}
