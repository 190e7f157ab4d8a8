package dev.rimecast.ingest.mqtt;

import dev.rimecast.ingest.mqtt.Gatekeeper.Shown;
import dev.rimecast.telemetry.gateway.GatewayKey;
import dev.rimecast.telemetry.net.TlsPair;
import io.netty.handler.ssl.SslContextBuilder;
import io.vertx.core.buffer.Buffer;
import io.vertx.core.http.ClientAuth;
import io.vertx.core.net.PemKeyCertOptions;
import io.vertx.core.net.TrustOptions;
import io.vertx.mqtt.MqttEndpoint;
import io.vertx.mqtt.MqttServerOptions;
import java.io.ByteArrayInputStream;
import java.security.cert.Certificate;
import java.security.cert.CertificateEncodingException;
import java.util.LinkedHashSet;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import javax.net.ssl.SSLException;
import javax.net.ssl.SSLPeerUnverifiedException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** What an address is listened on with, and what connections show there. */
final class Doors {
    private static final Logger log = LoggerFactory.getLogger(Doors.class);

    private Doors() {}

    /** @param pair certificate and key, where the address has TLS */
    static MqttServerOptions options(Listen listen, Optional<TlsPair> pair) {
        MqttServerOptions options = new MqttServerOptions()
                .setHost(listen.host())
                .setPort(listen.port())
                .setMaxMessageSize(Limits.MAX_PACKET_BYTES)
                .setTimeoutOnConnect(Limits.CONNECT_TIMEOUT_SECONDS)
                .setMaxClientIdLength(128)
                .setAutoClientId(true);
        // A line that is gone for good counts no longer than that takes to be noticed, whatever its keep-alive.
        options.setTcpKeepAlive(true);
        listen.tls().ifPresent(tls -> encrypt(options, tls, pair.orElseThrow()));
        return options;
    }

    /** A client's certificate is asked for, not required. Whose it is, the {@link Gatekeeper} knows by its digest, so nobody has to have signed it. */
    private static void encrypt(MqttServerOptions options, Listen.Tls tls, TlsPair pair) {
        Set<String> protocols = new LinkedHashSet<>(Set.of("TLSv1.3"));
        if (tls.isTls12Allowed()) {
            protocols.add("TLSv1.2");
        }
        options.setSsl(true)
                .setSslHandshakeTimeout(Limits.CONNECT_TIMEOUT_SECONDS)
                .setSslHandshakeTimeoutUnit(TimeUnit.SECONDS)
                .setKeyCertOptions(shownBy(pair))
                .setClientAuth(ClientAuth.REQUEST)
                .setTrustOptions(TrustOptions.wrap(new AnyClient()));
        options.setEnabledSecureTransportProtocols(protocols);
    }

    /** The bytes that were checked, and not files that may be others by now. */
    static PemKeyCertOptions shownBy(TlsPair pair) {
        return new PemKeyCertOptions()
                .setCertValue(Buffer.buffer(pair.certificatePem()))
                .setKeyValue(Buffer.buffer(pair.keyPem()));
    }

    /**
     * Reads certificate and key.
     *
     * @return empty: in the clear
     * @throws IllegalArgumentException naming the file that can't be used
     */
    static Optional<TlsPair> pair(Listen listen) {
        return listen.tls().map(tls -> {
            try {
                TlsPair pair = TlsPair.read(tls.certificate(), tls.key());
                SslContextBuilder.forServer(
                                new ByteArrayInputStream(pair.certificatePem()),
                                new ByteArrayInputStream(pair.keyPem()))
                        .build();
                return pair;
            } catch (SSLException | IllegalArgumentException e) {
                throw new IllegalArgumentException(
                        "MQTT over TLS can't begin with the certificate " + tls.certificate() + " and the key "
                                + tls.key() + ": " + e.getMessage() + ". Both must be PEM, the key PKCS 8 without a"
                                + " password, and of one pair",
                        e);
            }
        });
    }

    static Shown shown(MqttEndpoint endpoint) {
        Optional<String> user = Optional.empty();
        Optional<String> password = Optional.empty();
        if (endpoint.auth() != null) {
            user = Optional.ofNullable(endpoint.auth().getUsername()).filter(name -> !name.isEmpty());
            password = Optional.ofNullable(endpoint.auth().getPassword()).filter(text -> !text.isEmpty());
        }
        return new Shown(endpoint.isSsl(), user, password, certificate(endpoint));
    }

    private static Optional<String> certificate(MqttEndpoint endpoint) {
        if (!endpoint.isSsl()) {
            return Optional.empty();
        }
        try {
            Certificate[] chain = endpoint.sslSession().getPeerCertificates();
            return Optional.of(GatewayKey.digest(chain[0].getEncoded()));
        } catch (SSLPeerUnverifiedException none) {
            return Optional.empty();
        } catch (CertificateEncodingException e) {
            log.info("a client's certificate can't be read: {}", e.getMessage());
            return Optional.empty();
        }
    }
}
