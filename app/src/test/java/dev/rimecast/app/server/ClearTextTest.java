package dev.rimecast.app.server;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.store.DatabaseLogin;
import dev.rimecast.ingest.broker.BrokerSettings;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Addresses are of RFC 5737, for documentation, so that no name is looked up. */
class ClearTextTest {
    private static List<String> warnings(Map<String, String> kafka, String database, String broker) {
        return ClearText.warnings(new ServerSettings(
                Path.of("unused"),
                Role.all(),
                new ServerSettings.Address("127.0.0.1", 0),
                new ServerSettings.Mqtt(
                        true,
                        new ServerSettings.Address("127.0.0.1", 0),
                        Optional.empty(),
                        0,
                        Optional.of(BrokerSettings.standard(broker, "one", "rimecast", Optional.empty()))),
                Optional.of(kafka),
                ServerSettings.TopicShape.ONE_MACHINE,
                Optional.of(new DatabaseLogin(database, "rimecast", "", Optional.empty())),
                ServerSettings.Files.NONE));
    }

    @Test
    void anotherMachine_inTheClear_isToldWithTheSetting() {
        assertThat(warnings(
                        Map.of(
                                "bootstrap.servers",
                                "127.0.0.1:9092, 192.0.2.7:9092",
                                "security.protocol",
                                "SASL_PLAINTEXT"),
                        "jdbc:postgresql://192.0.2.8/rimecast?sslmode=prefer",
                        "mqtt://192.0.2.9"))
                .containsExactly(
                        "Kafka at 192.0.2.7:9092 is on another machine and spoken to in the clear: set kafka.tls: true",
                        "PostgreSQL at 192.0.2.8 is on another machine and spoken to in the clear: set database.tls: true",
                        "The MQTT broker at 192.0.2.9 is on another machine and spoken to in the clear: write mqtts:// in mqtt-broker.url");
    }

    @Test
    void thisMachine_orTls_isNoWarning() {
        assertThat(warnings(
                        Map.of("bootstrap.servers", "127.0.0.1:9092,[::1]:9093", "security.protocol", "PLAINTEXT"),
                        "jdbc:postgresql://localhost:5432/rimecast",
                        "mqtt://127.0.0.1"))
                .isEmpty();
        assertThat(warnings(
                        Map.of("bootstrap.servers", "192.0.2.7:9092", "security.protocol", "SASL_SSL"),
                        "jdbc:postgresql://192.0.2.8:5432/rimecast?a=b&sslmode=verify-full&sslrootcert=x",
                        "mqtts://192.0.2.9"))
                .isEmpty();
        assertThat(warnings(Map.of("bootstrap.servers", "127.0.0.1:1"), "jdbc:postgresql:rimecast", "mqtt://127.0.0.1"))
                .isEmpty();
    }
}
