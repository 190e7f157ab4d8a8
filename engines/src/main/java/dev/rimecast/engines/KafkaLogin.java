package dev.rimecast.engines;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Map;
import java.util.Properties;

/**
 * Who may speak with the embedded broker: whoever can read its data directory. The secret is made at the first start that finds none,
 * and is asked for on both listeners, that of clients and that of the controller.
 */
record KafkaLogin(String password) {
    static final String MECHANISM = "SCRAM-SHA-512";
    static final String PROTOCOL = "SASL_PLAINTEXT";

    private static final String USER = "rimecast";
    private static final String FILE = "password";

    static KafkaLogin in(Path directory) throws IOException {
        return new KafkaLogin(Secret.inFile(directory.resolve(FILE)));
    }

    /** What a broker was started with in {@code directory}. */
    static KafkaLogin of(Path directory) throws IOException {
        return new KafkaLogin(Secret.of(directory.resolve(FILE)));
    }

    /** Settings of a client. */
    Map<String, String> client(String bootstrapServers) {
        return Map.of(
                "bootstrap.servers",
                bootstrapServers,
                "security.protocol",
                PROTOCOL,
                "sasl.mechanism",
                MECHANISM,
                "sasl.jaas.config",
                jaas());
    }

    void configure(Properties broker, String... listeners) {
        broker.setProperty("sasl.enabled.mechanisms", MECHANISM);
        broker.setProperty("sasl.mechanism.inter.broker.protocol", MECHANISM);
        broker.setProperty("sasl.mechanism.controller.protocol", MECHANISM);
        for (String listener : listeners) {
            String prefix = "listener.name." + listener.toLowerCase(java.util.Locale.ROOT) + '.'
                    + MECHANISM.toLowerCase(java.util.Locale.ROOT) + '.';
            broker.setProperty(prefix + "sasl.jaas.config", jaas());
            broker.setProperty(prefix + "sasl.server.callback.handler.class", BrokerLogin.class.getName());
        }
    }

    /** The password is hexadecimal digits that we made ourselves. */
    private String jaas() {
        return "org.apache.kafka.common.security.scram.ScramLoginModule required username=\"" + USER + "\" password=\""
                + password + "\";";
    }

    /** Without the password. */
    @Override
    public String toString() {
        return "KafkaLogin[" + USER + "]";
    }
}
