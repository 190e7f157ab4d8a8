package dev.rimecast.ingest.mqtt;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.nio.file.Path;
import java.util.Optional;

/**
 * Where and how fast to listen.
 *
 * @param packsPerSecond of one gateway, sustained; infinite: no limit
 * @param burstPacks of one gateway after a rest
 * @param tls empty: in the clear
 */
public record Listen(String host, int port, double packsPerSecond, double burstPacks, Optional<Tls> tls) {

    /**
     * How the endpoint shows that it is itself.
     *
     * @param certificate chain in PEM, its own first
     * @param key its private key in PEM (PKCS 8)
     * @param isTls12Allowed whether TLS 1.2 is spoken, too, and not only 1.3
     */
    public record Tls(Path certificate, Path key, boolean isTls12Allowed) {}

    /** In the clear. */
    public Listen(String host, int port, double packsPerSecond, double burstPacks) {
        this(host, port, packsPerSecond, burstPacks, Optional.empty());
    }

    /**
     * In the clear, a key could be read on its way, and without one whoever reaches the port may speak for any gateway that
     * has none.
     *
     * @throws IllegalArgumentException if other machines could reach it
     */
    void requireLoopbackInTheClear() {
        boolean isLoopback;
        try {
            isLoopback = InetAddress.getByName(host).isLoopbackAddress();
        } catch (UnknownHostException e) {
            throw new IllegalArgumentException("mqtt host '" + host + "' is not known: " + e.getMessage(), e);
        }
        if (!isLoopback && tls.isEmpty()) {
            throw new IllegalArgumentException("mqtt host '" + host + "' is refused: without TLS, MQTT listens on a"
                    + " loopback address only, such as 127.0.0.1");
        }
    }
}
