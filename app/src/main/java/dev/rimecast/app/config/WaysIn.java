package dev.rimecast.app.config;

import dev.rimecast.app.server.Role;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.ingest.IngestSettings;
import dev.rimecast.ingest.broker.BrokerLimits;
import dev.rimecast.ingest.broker.BrokerSettings;
import dev.rimecast.ingest.mqtt.ConnectionLimits;
import dev.rimecast.ingest.mqtt.Listen;
import dev.rimecast.telemetry.yaml.YamlMap;
import java.nio.file.Path;
import java.util.Optional;
import java.util.Set;

/** How packs come in: the sections {@code mqtt} and {@code mqtt-broker}. */
final class WaysIn {
    private static final String BROKER = BrokerKeys.URL.section();

    private WaysIn() {}

    /**
     * @param listen address of the own endpoint
     * @param password of the broker's user, if a file is named
     * @param base what paths are relative to
     */
    static ServerSettings.Mqtt read(
            YamlMap document, Set<Role> roles, ServerSettings.Address listen, Optional<String> password, Path base) {
        boolean hasEndpoint = ConfigKeys.MQTT_ENDPOINT.in(document);
        Optional<BrokerSettings> broker = broker(document, password);
        if (!hasEndpoint && BrokerKeys.URL.optionalIn(document).isEmpty() && roles.contains(Role.INGEST)) {
            document.map(ConfigKeys.MQTT_ENDPOINT.section())
                    .problem(
                            ConfigKeys.MQTT_ENDPOINT.name(),
                            "is false and " + BrokerKeys.URL.path() + " is not given: packs could not come in at all");
            hasEndpoint = true;
        }
        Optional<IngestSettings.Secure> secure = secure(document, base);
        if (secure.isPresent() && !hasEndpoint) {
            document.map(ConfigKeys.MQTT_ENDPOINT.section())
                    .problem(
                            ConfigKeys.MQTT_ENDPOINT.name(),
                            "is false, so " + ConfigKeys.TLS_CERTIFICATE_FILE.path()
                                    + " would let nobody in: take one of the two out");
        }
        return new ServerSettings.Mqtt(
                hasEndpoint,
                listen,
                secure,
                ConfigKeys.MQTT_PACKS_PER_SECOND.in(document),
                new ConnectionLimits(
                        ConfigKeys.MQTT_CONNECTIONS_PER_GATEWAY.in(document),
                        ConfigKeys.MQTT_CONNECTIONS_PER_ADDRESS.in(document)),
                broker);
    }

    /** For other machines, where there is a certificate. */
    private static Optional<IngestSettings.Secure> secure(YamlMap document, Path base) {
        Optional<Path> certificate = Config.existing(document, ConfigKeys.TLS_CERTIFICATE_FILE, base);
        Optional<Path> key = Config.existing(document, ConfigKeys.TLS_KEY_FILE, base);
        String host = ConfigKeys.TLS_HOST.in(document);
        int port = ConfigKeys.TLS_PORT.in(document);
        boolean isTls12Allowed = ConfigKeys.TLS_12.in(document);
        if (certificate.isPresent() != key.isPresent()) {
            ConfigKey<String> missing =
                    certificate.isPresent() ? ConfigKeys.TLS_KEY_FILE : ConfigKeys.TLS_CERTIFICATE_FILE;
            document.map(missing.section()).problem(missing.name(), "is missing: certificate and key belong together");
        }
        if (certificate.isEmpty() || key.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(
                new IngestSettings.Secure(host, port, new Listen.Tls(certificate.get(), key.get(), isTls12Allowed)));
    }

    private static Optional<BrokerSettings> broker(YamlMap document, Optional<String> password) {
        Optional<String> url = BrokerKeys.URL.optionalIn(document);
        Optional<String> user = BrokerKeys.USERNAME.optionalIn(document);
        String clientId = BrokerKeys.CLIENT_ID.in(document);
        String group = BrokerKeys.GROUP.in(document);
        BrokerLimits limits = BrokerKeys.limits(document);
        boolean trustsTopics = BrokerKeys.TRUSTS_TOPICS.in(document);
        if (password.isPresent() && user.isEmpty()) {
            document.map(BROKER)
                    .problem(
                            BrokerKeys.PASSWORD_FILE.name(),
                            "is of nobody: give " + BrokerKeys.USERNAME.path() + ", too");
        }
        Optional<BrokerSettings.Login> login = user.map(name -> new BrokerSettings.Login(name, password.orElse("")));
        try {
            Optional<BrokerSettings> broker =
                    url.map(address -> BrokerSettings.standard(address, clientId, group, login)
                            .trustingTopics(trustsTopics)
                            .withLimits(limits));
            broker.ifPresent(settings -> refuseOpenPassword(document, settings));
            return broker;
        } catch (BrokerSettings.Wrong e) {
            ConfigKey<String> key = switch (e.field()) {
                case URL -> BrokerKeys.URL;
                case CLIENT_ID -> BrokerKeys.CLIENT_ID;
                case GROUP -> BrokerKeys.GROUP;
            };
            document.map(BROKER).problem(key.name(), e.what());
            return Optional.empty();
        }
    }

    /** A password crosses a network only inside TLS. */
    private static void refuseOpenPassword(YamlMap document, BrokerSettings broker) {
        if (broker.login().isPresent() && !broker.isEncrypted() && !Config.isLoopback(broker.host())) {
            document.map(BROKER)
                    .problem(
                            BrokerKeys.URL.name(),
                            "would send the password of " + BrokerKeys.USERNAME.path()
                                    + " to another machine for all to read: use mqtts://");
        }
    }
}
