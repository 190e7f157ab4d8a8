package dev.rimecast.app.faults;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.net.SocketTimeoutException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.cert.CertificateFactory;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLException;
import javax.net.ssl.SSLSocket;
import javax.net.ssl.TrustManagerFactory;

/**
 * What {@code deploy/secrets.sh} has made, by which Kafka and the product know each other.
 *
 * @param directory with {@code kafka.pem}, {@code kafka-ca.crt}, {@code rimecast.crt} and {@code rimecast.key} in it
 */
record KafkaKeys(Path directory) {
    private static final int MILLIS = 5_000;

    /** Has the script make new ones. */
    static KafkaKeys make(Path script, Path directory) throws IOException, InterruptedException {
        Process process = new ProcessBuilder("bash", script.toString(), directory.toString())
                .redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.INHERIT)
                .start();
        assertThat(process.waitFor(1, TimeUnit.MINUTES)).as("%s ends", script).isTrue();
        assertThat(process.exitValue()).as("%s", script).isZero();
        return new KafkaKeys(directory);
    }

    /** One of the files, without the line that ends it. */
    String text(String name) throws IOException {
        return Files.readString(directory.resolve(name)).strip();
    }

    /** Settings of a client that has the product's certificate. */
    Map<String, String> client(String bootstrapServers) throws IOException {
        Map<String, String> settings = new LinkedHashMap<>();
        settings.put("bootstrap.servers", bootstrapServers);
        settings.put("security.protocol", "SSL");
        settings.put("ssl.keystore.type", "PEM");
        settings.put("ssl.keystore.certificate.chain", text("rimecast.crt"));
        settings.put("ssl.keystore.key", text("rimecast.key"));
        settings.put("ssl.truststore.type", "PEM");
        settings.put("ssl.truststore.certificates", text("kafka-ca.crt"));
        return Map.copyOf(settings);
    }

    /**
     * Whether a port of this machine refuses who speaks TLS and has no certificate. In TLS 1.3 the client is through first and is told when it
     * reads (RFC 8446, section 4.4.2.4: {@code certificate_required}; Java says {@code bad_certificate}).
     */
    boolean refusesStrangers(int port) throws IOException, GeneralSecurityException {
        try (SSLSocket socket = (SSLSocket) stranger().getSocketFactory().createSocket()) {
            socket.connect(new InetSocketAddress("127.0.0.1", port), MILLIS);
            socket.setSoTimeout(MILLIS);
            try {
                socket.startHandshake();
                // Kafka says nothing before it is asked: who was let in waits here until the time is over.
                int first = socket.getInputStream().read();
                throw new AssertionError("port " + port + " answered " + first);
            } catch (SocketTimeoutException letIn) {
                return false;
            } catch (SSLException refused) {
                return String.valueOf(refused.getMessage()).matches("(?i).*(bad_certificate|certificate_required).*");
            }
        }
    }

    /** Trusts Kafka, and has nothing to show. */
    private SSLContext stranger() throws IOException, GeneralSecurityException {
        KeyStore trusted = KeyStore.getInstance(KeyStore.getDefaultType());
        trusted.load(null, null);
        trusted.setCertificateEntry(
                "kafka",
                CertificateFactory.getInstance("X.509")
                        .generateCertificate(
                                new ByteArrayInputStream(text("kafka-ca.crt").getBytes(US_ASCII))));
        TrustManagerFactory trust = TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
        trust.init(trusted);
        SSLContext context = SSLContext.getInstance("TLSv1.3");
        context.init(null, trust.getTrustManagers(), null);
        return context;
    }
}
