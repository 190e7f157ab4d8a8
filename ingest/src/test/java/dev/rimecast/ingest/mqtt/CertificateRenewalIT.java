package dev.rimecast.ingest.mqtt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.ack.LastAcks;
import dev.rimecast.ingest.intake.Intake;
import dev.rimecast.ingest.intake.LineDecoder;
import dev.rimecast.telemetry.gateway.GatewayKey;
import dev.rimecast.telemetry.machine.Register;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLException;
import javax.net.ssl.SSLSocket;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A certificate that is renewed under a running endpoint, as TLS clients see it. */
class CertificateRenewalIT {
    private static final String SECRET = "uE3q-0fYzH2s9cXvJpLw7bTn4kRaMd8gQ1oVi6yZxCh";

    @TempDir
    static Path made;

    private static TestCertificate first;
    private static TestCertificate second;

    @TempDir
    Path directory;

    private Path certificate;
    private Path key;
    private GatewayEndpoint endpoint;

    @BeforeAll
    static void certificates() throws Exception {
        first = TestCertificate.make(made, "first");
        second = TestCertificate.make(made, "second");
    }

    @BeforeEach
    void start() throws Exception {
        certificate = Files.copy(first.certificate(), directory.resolve("mqtt.crt"));
        key = Files.copy(first.key(), directory.resolve("mqtt.key"));
        Gatekeeper gatekeeper = Gatekeeper.waiting(() -> EndpointFixture.NOW);
        gatekeeper.inForce(Map.of(
                "gw-1", List.of(new GatewayKey(GatewayKey.Kind.SECRET, GatewayKey.digest(SECRET), Optional.empty()))));
        endpoint = GatewayEndpoint.start(
                List.of(new Listen("127.0.0.1", 0, 1000, 1000, Optional.of(new Listen.Tls(certificate, key, false)))),
                new Desk(new Intake(new LineDecoder()), () -> Optional.of(Register.EMPTY), () -> EndpointFixture.NOW),
                new HandStore().answeringAtOnce(),
                new LastAcks(),
                gatekeeper);
    }

    @AfterEach
    void stop() {
        endpoint.turnAway();
        endpoint.close();
    }

    private static void renew(Path file, Path from) throws Exception {
        Files.copy(from, file, StandardCopyOption.REPLACE_EXISTING);
    }

    /** A handshake of somebody who trusts this certificate and no other. */
    private void handshake(TestCertificate trusted) throws Exception {
        SSLContext context = trusted.trusted();
        try (SSLSocket socket = (SSLSocket) context.getSocketFactory().createSocket("127.0.0.1", endpoint.port())) {
            socket.setSoTimeout(10_000);
            socket.startHandshake();
            assertThat(socket.getSession().getPeerCertificates()[0])
                    .isEqualTo(trusted.store().getCertificate("one"));
        }
    }

    private void assertShown(TestCertificate shown, TestCertificate notShown) throws Exception {
        handshake(shown);
        assertThatThrownBy(() -> handshake(notShown)).isInstanceOf(SSLException.class);
    }

    private static void publish(MqttAsyncClient client) throws Exception {
        client.publish("fleet/gw-1/presence", "online".getBytes(StandardCharsets.UTF_8), 1, false)
                .waitForCompletion(10_000);
    }

    @Test
    void renewedCertificate_isShownToNewConnections_andOpenOnesGoOn() throws Exception {
        assertShown(first, second);
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setSocketFactory(first.trusted().getSocketFactory());
        options.setUserName("gw-1");
        options.setPassword(SECRET.getBytes(StandardCharsets.UTF_8));
        MqttAsyncClient open =
                new MqttAsyncClient("ssl://localhost:" + endpoint.port(), "open", new MemoryPersistence());
        open.connect(options).waitForCompletion(10_000);

        renew(certificate, second.certificate());
        renew(key, second.key());
        endpoint.lookAtCertificates();

        assertShown(second, first);
        publish(open);
        assertThat(open.isConnected()).isTrue();
        assertThat(endpoint.certificateProblem()).isEmpty();
        open.disconnect().waitForCompletion(5_000);
    }

    @Test
    void renewalThatIsHalfDone_keepsTheOldOne_andSaysSo() throws Exception {
        renew(certificate, second.certificate());
        endpoint.lookAtCertificates();

        assertShown(first, second);
        assertThat(endpoint.certificateProblem())
                .hasValueSatisfying(why -> assertThat(why).contains(key.toString(), "two pairs"));

        renew(key, second.key());
        endpoint.lookAtCertificates();
        assertShown(second, first);
        assertThat(endpoint.certificateProblem()).isEmpty();
    }

    @Test
    void filesThatAreNone_orGone_keepTheOldOne_andAreNamed() throws Exception {
        Files.writeString(certificate, "no certificate");
        endpoint.lookAtCertificates();
        assertShown(first, second);
        assertThat(endpoint.certificateProblem())
                .hasValueSatisfying(why -> assertThat(why).contains(certificate.toString()));

        Files.delete(certificate);
        endpoint.lookAtCertificates();
        assertShown(first, second);
        assertThat(endpoint.certificateProblem())
                .hasValueSatisfying(why -> assertThat(why).contains(certificate.toString(), "can't be read"));
    }

    /** Nobody has to tell it. */
    @Test
    void renewedCertificate_isFoundByItself() throws Exception {
        renew(certificate, second.certificate());
        renew(key, second.key());

        await().atMost(Duration.ofSeconds(60)).ignoreExceptions().until(() -> {
            handshake(second);
            return true;
        });
    }
}
