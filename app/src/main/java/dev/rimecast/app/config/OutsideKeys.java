package dev.rimecast.app.config;

import dev.rimecast.telemetry.yaml.YamlType;
import java.util.Locale;

/** Keys of how an outside Kafka and an outside PostgreSQL are spoken to. */
final class OutsideKeys {
    /** How Kafka is told who we are. */
    enum Sasl {
        SCRAM_SHA_512,
        SCRAM_SHA_256,
        PLAIN;

        /** As Kafka has it. */
        String mechanism() {
            return name().replace('_', '-');
        }

        String code() {
            return mechanism().toLowerCase(Locale.ROOT);
        }
    }

    static final ConfigKey<Boolean> KAFKA_TLS = ConfigKey.of(
            "kafka.tls",
            YamlType.bool(),
            false,
            "false",
            "",
            "Whether the outside Kafka is spoken to over TLS 1.3 or 1.2. Its certificate and its name in it are checked.");
    static final ConfigKey<String> KAFKA_CA_FILE = ConfigKey.optional(
            "kafka.ca-file",
            YamlType.text(),
            "kafka-ca.crt",
            "Certificates in PEM that may have signed Kafka's. Without it those that Java trusts.");
    static final ConfigKey<String> KAFKA_CERTIFICATE_FILE = ConfigKey.optional(
            "kafka.certificate-file",
            YamlType.text(),
            "rimecast.crt",
            "Our own certificate in PEM, for a Kafka that asks for one.");
    static final ConfigKey<String> KAFKA_KEY_FILE = ConfigKey.optional(
            "kafka.key-file",
            YamlType.text(),
            "/run/secrets/rimecast.key",
            "Its private key in PEM (PKCS 8), without a password.");
    static final ConfigKey<Sasl> KAFKA_SASL = ConfigKey.optional(
            "kafka.sasl",
            YamlType.oneOf(Sasl.class, Sasl::code),
            "scram-sha-512",
            "How we say who we are: scram-sha-512, scram-sha-256 or plain. Needs kafka.tls, unless Kafka is on this machine.");
    static final ConfigKey<String> KAFKA_USERNAME =
            ConfigKey.optional("kafka.username", YamlType.text(), "rimecast", "Our user there.");
    static final ConfigKey<String> KAFKA_PASSWORD_FILE = ConfigKey.optional(
            "kafka.password-file",
            YamlType.text(),
            "/run/secrets/kafka",
            "A file that holds nothing but the password of that user. The password itself is never written here.");

    static final ConfigKey<Integer> KAFKA_MIN_IN_SYNC = ConfigKey.of(
            "kafka.min-in-sync",
            YamlType.integer(1, 9),
            1,
            "1",
            "copies",
            "How many copies of those must have a write before it counts; with fewer brokers there nothing is taken in. 2 on a cluster.");
    static final ConfigKey<String> KAFKA_INSTANCE = ConfigKey.optional(
            "kafka.instance",
            YamlType.text(),
            "a",
            "The name of this process among several that have the same roles: another one for each, and the same at each start. It makes"
                    + " them share the work, and each give its part up when it stops. Without it there is only one of each role.");
    static final ConfigKey<Integer> KAFKA_STANDBYS = ConfigKey.of(
            "kafka.standbys",
            YamlType.integer(0, 8),
            1,
            "1",
            "copies",
            "Copies of what analytics knows that other instances hold ready, so that one that falls over is replaced within seconds."
                    + " Does nothing without kafka.instance.");

    static final ConfigKey<Boolean> DATABASE_TLS = ConfigKey.of(
            "database.tls",
            YamlType.bool(),
            false,
            "false",
            "",
            "Whether the outside PostgreSQL is spoken to over TLS only, its certificate and its name in it checked (verify-full).");
    static final ConfigKey<String> DATABASE_CA_FILE = ConfigKey.optional(
            "database.ca-file",
            YamlType.text(),
            "database-ca.crt",
            "Certificates in PEM that may have signed the server's; needed with database.tls.");
    static final ConfigKey<String> DATABASE_OWNER = ConfigKey.optional(
            "database.owner",
            YamlType.text(),
            "rimecast_owner",
            "The role that owns the tables: used at the start to bring the schema level and to grant database.user what it needs,"
                    + " which is not to change what is append-only. Without it database.user owns them.");
    static final ConfigKey<String> DATABASE_OWNER_PASSWORD_FILE = ConfigKey.optional(
            "database.owner-password-file",
            YamlType.text(),
            "/run/secrets/database-owner",
            "A file that holds nothing but the password of that role.");

    private OutsideKeys() {}
}
