package dev.rimecast.ingest.mqtt;

import java.net.InetAddress;
import java.net.UnknownHostException;

/**
 * Where and how fast to listen.
 *
 * @param packsPerSecond of one connection, sustained; infinite: no limit
 * @param burstPacks of one connection after a rest
 */
public record Listen(String host, int port, double packsPerSecond, double burstPacks) {

    /**
     * Gateways have no credentials yet: whoever reaches the port may speak for any of them.
     *
     * @throws IllegalArgumentException if other machines could reach it
     */
    void requireLoopback() {
        boolean isLoopback;
        try {
            isLoopback = InetAddress.getByName(host).isLoopbackAddress();
        } catch (UnknownHostException e) {
            throw new IllegalArgumentException("mqtt host '" + host + "' is not known: " + e.getMessage(), e);
        }
        if (!isLoopback) {
            throw new IllegalArgumentException("mqtt host '" + host + "' is refused: gateways have no credentials in"
                    + " this version, so MQTT listens on a loopback address only, such as 127.0.0.1");
        }
    }
}
