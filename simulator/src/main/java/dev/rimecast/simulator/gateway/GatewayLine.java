package dev.rimecast.simulator.gateway;

import java.util.Optional;
import javax.net.ssl.SSLSocketFactory;

/**
 * How a gateway reaches the server, and what it shows there.
 *
 * @param serverUri as the client library writes it: {@code tcp://host:port}, or {@code ssl://host:port} for TLS
 * @param tls whom it trusts and which certificate it shows; empty in the clear
 * @param secret shown as the password, with the gateway's name as the user; empty: none
 */
public record GatewayLine(String serverUri, Optional<SSLSocketFactory> tls, Optional<String> secret) {
    /** @throws IllegalArgumentException if address and encryption don't go together */
    public GatewayLine {
        if (tls.isPresent() != serverUri.startsWith("ssl://")) {
            throw new IllegalArgumentException("TLS goes with ssl:// and with nothing else, was " + serverUri);
        }
    }

    /** Without any key, e.g. to {@code tcp://127.0.0.1:1883}. */
    public static GatewayLine inTheClear(String serverUri) {
        return new GatewayLine(serverUri, Optional.empty(), Optional.empty());
    }

    /** Without the secret. */
    @Override
    public String toString() {
        return "GatewayLine[" + serverUri + (secret.isPresent() ? ", with a secret" : "") + "]";
    }
}
