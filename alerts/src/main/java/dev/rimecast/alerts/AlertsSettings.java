package dev.rimecast.alerts;

import java.util.Map;

/**
 * How the stage reaches Kafka and its database.
 *
 * @param kafka properties for every Kafka client; at least {@code bootstrap.servers}; {@code group.instance.id} where
 *     there are several instances
 * @param poolSize connections to the database, at least 4: one for each topic and one for the rest
 */
public record AlertsSettings(Map<String, String> kafka, String jdbcUrl, String user, String password, int poolSize) {

    public AlertsSettings {
        kafka = Map.copyOf(kafka);
        if (!kafka.containsKey("bootstrap.servers")) {
            throw new IllegalArgumentException("kafka lacks bootstrap.servers");
        }
        if (poolSize < 4) {
            throw new IllegalArgumentException("poolSize must be at least 4, was " + poolSize);
        }
    }

    /** Without secrets. */
    @Override
    public String toString() {
        return "AlertsSettings[" + kafka.get("bootstrap.servers") + ", " + jdbcUrl + ", pool of " + poolSize + ']';
    }
}
