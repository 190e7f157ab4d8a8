package dev.rimecast.simulator.gateway;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.cert.Certificate;
import java.util.List;
import java.util.Optional;
import javax.net.ssl.KeyManager;
import javax.net.ssl.KeyManagerFactory;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLSocketFactory;
import javax.net.ssl.TrustManager;
import javax.net.ssl.TrustManagerFactory;

/**
 * The lines of a fleet to one server. A gateway's key is a file in a directory: {@code NAME.secret} with nothing but the
 * secret, or {@code NAME.crt} and {@code NAME.key}, the certificate that it made itself, both PEM.
 */
public final class GatewayLines {
    private static final int TLS_PORT = 8883;
    private static final int CLEAR_PORT = 1883;
    private static final char[] NO_PASSWORD = {};

    private final String serverUri;
    private final boolean isTls;
    private final Optional<Path> trust;
    private final Optional<Path> keys;

    /**
     * @param server {@code mqtt://host:port}, or {@code mqtts://host:port} for TLS
     * @param trust the certificate that signed the server's, or the server's own, in PEM; empty: whom Java trusts
     * @param keys the directory; empty: gateways show nothing
     * @throws IllegalArgumentException if the address is none, or a secret would cross a network in the clear
     */
    public GatewayLines(URI server, Optional<Path> trust, Optional<Path> keys) {
        isTls = "mqtts".equals(server.getScheme());
        boolean isAddress = (isTls || "mqtt".equals(server.getScheme()))
                && server.getHost() != null
                && server.getRawUserInfo() == null
                && server.getRawQuery() == null
                && (server.getRawPath() == null || server.getRawPath().isEmpty());
        if (!isAddress) {
            throw new IllegalArgumentException(
                    "the server must be mqtt://host:port, or mqtts://host:port for TLS, was " + server);
        }
        if (!isTls && trust.isPresent()) {
            throw new IllegalArgumentException("a certificate to trust does nothing without TLS: write mqtts://");
        }
        if (!isTls && keys.isPresent() && !isThisMachine(server.getHost())) {
            throw new IllegalArgumentException("keys would cross the network for all to read: write mqtts://");
        }
        int port = server.getPort() >= 0 ? server.getPort() : isTls ? TLS_PORT : CLEAR_PORT;
        serverUri = (isTls ? "ssl://" : "tcp://") + server.getHost() + ":" + port;
        this.trust = trust;
        this.keys = keys;
    }

    private static boolean isThisMachine(String host) {
        return host.equals("localhost") || host.equals("[::1]") || host.matches("127(\\.[0-9]{1,3}){3}");
    }

    /**
     * The line of one gateway.
     *
     * @throws IllegalArgumentException naming what is missing or can't be used
     */
    public GatewayLine of(String gateway) throws IOException {
        Optional<String> secret = Optional.empty();
        KeyManager[] own = {};
        if (keys.isPresent()) {
            Path secretFile = keys.get().resolve(gateway + ".secret");
            Path certificate = keys.get().resolve(gateway + ".crt");
            if (Files.exists(secretFile)) {
                secret = Optional.of(Files.readString(secretFile).strip());
            } else if (Files.exists(certificate) && isTls) {
                own = showing(certificate, keys.get().resolve(gateway + ".key"));
            } else {
                throw new IllegalArgumentException("gateway " + gateway + " has no key in " + keys.get() + ": neither "
                        + gateway + ".secret" + (isTls ? " nor " + gateway + ".crt with " + gateway + ".key" : "")
                        + "; ./rimecast gateway add " + gateway + " gives one");
            }
        }
        return new GatewayLine(serverUri, isTls ? Optional.of(sockets(own)) : Optional.empty(), secret);
    }

    private static KeyManager[] showing(Path certificate, Path key) throws IOException {
        try {
            KeyStore store = KeyStore.getInstance("PKCS12");
            store.load(null, NO_PASSWORD);
            store.setKeyEntry(
                    "own",
                    Pem.key(key),
                    NO_PASSWORD,
                    Pem.certificates(certificate).toArray(Certificate[]::new));
            KeyManagerFactory keys = KeyManagerFactory.getInstance(KeyManagerFactory.getDefaultAlgorithm());
            keys.init(store, NO_PASSWORD);
            return keys.getKeyManagers();
        } catch (GeneralSecurityException e) {
            throw new IllegalArgumentException(
                    certificate + " and " + key + " can't be used together: " + e.getMessage(), e);
        }
    }

    private SSLSocketFactory sockets(KeyManager[] own) throws IOException {
        try {
            SSLContext context = SSLContext.getInstance("TLS");
            context.init(own, trust.isPresent() ? trusting(Pem.certificates(trust.get())) : null, null);
            return context.getSocketFactory();
        } catch (GeneralSecurityException e) {
            throw new IllegalArgumentException("TLS can't begin: " + e.getMessage(), e);
        }
    }

    private static TrustManager[] trusting(List<Certificate> certificates)
            throws GeneralSecurityException, IOException {
        KeyStore store = KeyStore.getInstance("PKCS12");
        store.load(null, NO_PASSWORD);
        for (int i = 0; i < certificates.size(); i++) {
            store.setCertificateEntry("trusted-" + i, certificates.get(i));
        }
        TrustManagerFactory trust = TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
        trust.init(store);
        return trust.getTrustManagers();
    }
}
