package dev.rimecast.app.config;

import dev.rimecast.alerts.keep.Retention;
import dev.rimecast.alerts.people.FactorRule;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.history.HistorySettings;
import dev.rimecast.history.store.Keep;
import dev.rimecast.ingest.mqtt.ConnectionLimits;
import dev.rimecast.telemetry.yaml.YamlType;
import java.time.Duration;
import java.util.List;

/** All keys of the configuration file but {@code roles}, which is not a single value. */
final class ConfigKeys {
    static final ConfigKey<String> DATA_DIRECTORY = ConfigKey.of(
            "data.directory",
            YamlType.text(),
            "data",
            "data",
            "",
            "Where everything that must survive is kept: Kafka's log, the database, state. One process at a time.");
    static final ConfigKey<String> DASHBOARD_HOST = ConfigKey.of(
            "dashboard.host",
            YamlType.text(),
            "127.0.0.1",
            "127.0.0.1",
            "",
            "Address of the pages and the API. Without a certificate only loopback addresses are accepted: passwords cross no network in the clear.");
    static final ConfigKey<Integer> DASHBOARD_PORT = ConfigKey.of(
            "dashboard.port", YamlType.integer(0, 65535), 8080, "8080", "", "Its port; 0 takes a free one.");
    static final ConfigKey<String> DASHBOARD_CERTIFICATE_FILE = ConfigKey.optional(
            "dashboard.certificate-file",
            YamlType.text(),
            "pages.crt",
            "The certificate in PEM by which browsers know us, with what signed it below. With it pages and API are served over TLS"
                    + " 1.3 or 1.2 only, and dashboard.host may be any address. Without it TLS is a reverse proxy's.");
    static final ConfigKey<String> DASHBOARD_KEY_FILE = ConfigKey.optional(
            "dashboard.key-file", YamlType.text(), "pages.key", "Its private key in PEM (PKCS 8), without a password.");
    static final ConfigKey<Boolean> MQTT_ENDPOINT = ConfigKey.of(
            "mqtt.endpoint",
            YamlType.bool(),
            true,
            "true",
            "",
            "Whether gateways can connect to us. Can be false where they publish to a broker that mqtt-broker names.");
    static final ConfigKey<String> MQTT_HOST = ConfigKey.of(
            "mqtt.host",
            YamlType.text(),
            "127.0.0.1",
            "127.0.0.1",
            "",
            "Address where gateways of this machine connect, in the clear: a loopback address. Others connect by mqtt-tls.");
    static final ConfigKey<Integer> MQTT_PORT =
            ConfigKey.of("mqtt.port", YamlType.integer(0, 65535), 1883, "1883", "", "Its port; 0 takes a free one.");
    static final ConfigKey<Integer> MQTT_PACKS_PER_SECOND = ConfigKey.of(
            "mqtt.packs-per-second",
            YamlType.integer(0, 1_000_000),
            50,
            "50",
            "packs a second and gateway",
            "A gateway that sends more is read more slowly; nothing is dropped. 0 switches the limit off.");
    static final ConfigKey<Integer> MQTT_CONNECTIONS_PER_GATEWAY = ConfigKey.of(
            "mqtt.connections-per-gateway",
            YamlType.integer(0, 1_000),
            ConnectionLimits.STANDARD.perGateway(),
            "10",
            "connections",
            "Connections of one gateway at a time, over TLS, too. One more ends its oldest. 0 switches the limit off.");
    static final ConfigKey<Integer> MQTT_CONNECTIONS_PER_ADDRESS = ConfigKey.of(
            "mqtt.connections-per-address",
            YamlType.integer(0, 1_000_000),
            ConnectionLimits.STANDARD.perAddress(),
            "2000",
            "connections",
            "Connections from one address at a time, over TLS, too. One more is closed unread. Gateways behind one router share an"
                    + " address, and after their line was cut each may count twice for a while: at least twice their number. 0"
                    + " switches the limit off.");
    static final ConfigKey<String> TLS_CERTIFICATE_FILE = ConfigKey.optional(
            "mqtt-tls.certificate-file",
            YamlType.text(),
            "mqtt.crt",
            "The certificate in PEM by which gateways know us, with what signed it below. With it they can connect from other machines, over TLS 1.3 and with a key: ./rimecast gateway add.");
    static final ConfigKey<String> TLS_KEY_FILE = ConfigKey.optional(
            "mqtt-tls.key-file", YamlType.text(), "mqtt.key", "Its private key in PEM (PKCS 8), without a password.");
    static final ConfigKey<String> TLS_HOST = ConfigKey.of(
            "mqtt-tls.host",
            YamlType.text(),
            "0.0.0.0",
            "0.0.0.0",
            "",
            "Address where gateways connect over TLS; 0.0.0.0 is every address of this machine.");
    static final ConfigKey<Integer> TLS_PORT = ConfigKey.of(
            "mqtt-tls.port", YamlType.integer(0, 65535), 8883, "8883", "", "Its port; 0 takes a free one.");
    static final ConfigKey<Boolean> TLS_12 = ConfigKey.of(
            "mqtt-tls.allow-tls-1-2",
            YamlType.bool(),
            false,
            "false",
            "",
            "Whether TLS 1.2 is spoken, too: for gateways that know no other.");
    static final ConfigKey<String> KAFKA_BOOTSTRAP_SERVERS = ConfigKey.optional(
            "kafka.bootstrap-servers",
            YamlType.text(),
            "kafka-1.example:9092,kafka-2.example:9092",
            "An outside Kafka. Without it one runs inside the process, with its data in the data directory.");
    static final ConfigKey<Integer> KAFKA_PARTITIONS = ConfigKey.of(
            "kafka.partitions",
            YamlType.integer(1, 1024),
            12,
            "12",
            "",
            "Partitions of the sites' logs, fixed when the topics are made: 12 on one machine, 48 on a cluster.");
    static final ConfigKey<Integer> KAFKA_REPLICATION = ConfigKey.of(
            "kafka.replication",
            YamlType.integer(1, 9),
            1,
            "1",
            "copies",
            "Copies of each topic that we make on an outside Kafka. 3 on a cluster.");
    static final ConfigKey<Duration> KAFKA_RETENTION = ConfigKey.of(
            "kafka.retention",
            YamlType.duration(Duration.ofHours(1), Duration.ofDays(3650)),
            Duration.ofDays(30),
            "30d",
            "s, m, h, d",
            "How long the sites' logs are kept.");
    static final ConfigKey<Long> KAFKA_RETENTION_BYTES = ConfigKey.of(
            "kafka.retention-bytes",
            YamlType.longInteger(1 << 20, Long.MAX_VALUE),
            1L << 30,
            "1073741824",
            "bytes a partition",
            "And at most so much of them: the older is dropped first.");
    static final ConfigKey<String> DATABASE_URL = ConfigKey.optional(
            "database.url",
            YamlType.text(),
            "jdbc:postgresql://db.example/rimecast",
            "An outside PostgreSQL. Without it one runs beside the process, with its data in the data directory.");
    static final ConfigKey<String> DATABASE_USER = ConfigKey.of(
            "database.user", YamlType.text(), "rimecast", "rimecast", "", "Its user; ignored without database.url.");
    static final ConfigKey<String> DATABASE_PASSWORD_FILE = ConfigKey.optional(
            "database.password-file",
            YamlType.text(),
            "/run/secrets/database",
            "A file that holds nothing but the password of that user. The password itself is never written here.");
    static final ConfigKey<String> FLEET_REGISTER = ConfigKey.optional(
            "fleet.register",
            YamlType.text(),
            "machines.csv",
            "The register, read at each start. Machines that were claimed on the page System stay until it names them.");
    static final ConfigKey<String> FLEET_SITES = ConfigKey.optional(
            "fleet.sites", YamlType.text(), "sites.csv", "Names, time zones and hours of the sites.");
    static final ConfigKey<String> FLEET_POLICY = ConfigKey.optional(
            "fleet.policy",
            YamlType.text(),
            "policy.yaml",
            "All thresholds, else those that ship with this version. Only a new text in it goes before what people have"
                    + " put into force on the page Thresholds.");
    static final ConfigKey<String> FLEET_ENGINEERS = ConfigKey.optional(
            "fleet.engineers",
            YamlType.text(),
            "engineers.csv",
            "Who can be sent: days, skills, sites, absences. Without it one engineer does everything on every working day.");
    static final ConfigKey<String> FLEET_PARTS = ConfigKey.optional(
            "fleet.parts",
            YamlType.text(),
            "parts.csv",
            "What takes days to come: no visit is planned before what it needs is there. Without it all is in the van.");

    static final ConfigKey<Duration> VISITS_HORIZON = ConfigKey.of(
            "visits.horizon",
            YamlType.duration(Duration.ofDays(1), Duration.ofDays(60)),
            Duration.ofDays(14),
            "14d",
            "s, m, h, d",
            "A date further away makes no visit yet. Longer plans more of it, and moves it more often.");
    static final ConfigKey<Duration> VISITS_CARE_GRACE = ConfigKey.of(
            "visits.care-grace",
            YamlType.duration(Duration.ofDays(0), Duration.ofDays(90)),
            Duration.ofDays(14),
            "14d",
            "s, m, h, d",
            "How long care that is due waits for another visit before it makes its own. Longer makes fewer trips.");
    static final ConfigKey<Duration> VISITS_SPARE = ConfigKey.of(
            "visits.spare",
            YamlType.duration(Duration.ofDays(0), Duration.ofDays(14)),
            Duration.ofDays(1),
            "1d",
            "s, m, h, d",
            "A visit is planned this much before its latest date, where it can be.");
    static final ConfigKey<Duration> VISITS_TRAVEL = ConfigKey.of(
            "visits.travel",
            YamlType.duration(Duration.ofMinutes(0), Duration.ofHours(8)),
            Duration.ofHours(1),
            "1h",
            "s, m, h, d",
            "The way to a site and back, counted in an engineer's day.");
    static final ConfigKey<Duration> VISITS_SETTLE = ConfigKey.of(
            "visits.settle",
            YamlType.duration(Duration.ofDays(0), Duration.ofDays(14)),
            Duration.ofDays(1),
            "1d",
            "s, m, h, d",
            "After a visit, how long what it was for is left alone: the next cycles tell whether it is over.");
    static final ConfigKey<String> NOTICES_FILE = ConfigKey.optional(
            "notices.file",
            YamlType.text(),
            "notices.yaml",
            "Who is told of what, when and how: receivers, routes, digests. Without it nobody is.");

    static final ConfigKey<FactorRule> SECOND_FACTOR = ConfigKey.of(
            "people.second-factor",
            YamlType.oneOf(FactorRule.class, FactorRule::code),
            FactorRule.OPTIONAL,
            "optional",
            "",
            "Whose accounts must have a second factor (one-time codes of a program on a phone): optional, administrators, or"
                    + " everybody. An account that lacks it can do nothing but add it, its API tokens nothing at all.");

    static final ConfigKey<Duration> SITE_LINK_LASTS = ConfigKey.of(
            "site-link.lasts",
            YamlType.duration(Duration.ofHours(1), Duration.ofDays(14)),
            Duration.ofHours(48),
            "48h",
            "s, m, h, d",
            "How long a site can answer by a link without an account. It ends earlier when its case closes, or is revoked.");

    static final ConfigKey<Duration> KEEP_TEMPERATURES = kept(
            "temperatures",
            Retention.STANDARD.temperatures(),
            "How long five-minute temperatures are kept: 30 to 47 MB a machine and year, so enough for a season and no more."
                    + " At least 60d, as for all of these.");
    static final ConfigKey<Duration> KEEP_CYCLES = kept(
            "cycles",
            Retention.STANDARD.cycles(),
            "How long cycles are kept, and how an alert developed after it is over: a year and a month, so that a hot week"
                    + " can be laid beside that of the year before.");
    static final ConfigKey<Duration> KEEP_NOTICES = kept(
            "notices",
            Retention.STANDARD.notices(),
            "How long the log of notices is kept after the case is closed and its last notice ended: whoever asks who was told"
                    + " a year ago gets an answer. Alerts, cases, reports with their photos and audits are kept"
                    + " for good.");

    static final ConfigKey<Duration> HISTORY_FLUSH = ConfigKey.of(
            "history.flush",
            YamlType.duration(Duration.ofSeconds(1), Duration.ofHours(1)),
            HistorySettings.FLUSH,
            "5m",
            "s, m, h, d",
            "How long after it was read a record is in a file of the history, and can be asked for. Shorter makes more and smaller"
                    + " files, which become days all the same.");
    static final ConfigKey<Duration> HISTORY_KEEP = ConfigKey.of(
            "history.keep",
            YamlType.duration(Duration.ofDays(1), Duration.ofDays(36_500)),
            Keep.STANDARD.age(),
            Keep.STANDARD.age().toDays() + "d",
            "s, m, h, d",
            "How long the history keeps what machines said and what was decided. Register, policies, events and weather are kept"
                    + " for good, since a back-test begins with them.");
    static final ConfigKey<Long> HISTORY_KEEP_BYTES = ConfigKey.of(
            "history.keep-bytes",
            YamlType.longInteger(1 << 20, Long.MAX_VALUE),
            Keep.STANDARD.bytes(),
            String.valueOf(Keep.STANDARD.bytes()),
            "bytes",
            "And at most so much of it: the oldest readings go first.");

    static final ConfigKey<Long> DATA_KEEP_FREE = ConfigKey.of(
            "data.keep-free-bytes",
            YamlType.longInteger(0, Long.MAX_VALUE),
            ServerSettings.KEEP_FREE_BYTES,
            String.valueOf(ServerSettings.KEEP_FREE_BYTES),
            "bytes",
            "With less room on the disk of the data directory nothing is taken in: gateways keep their packs, and all goes on"
                    + " by itself when there is room. Kafka and PostgreSQL can't bear a full disk. 0 switches it off.");

    static final List<ConfigKey<?>> ALL = List.of(
            DATA_DIRECTORY,
            DATA_KEEP_FREE,
            DASHBOARD_HOST,
            DASHBOARD_PORT,
            DASHBOARD_CERTIFICATE_FILE,
            DASHBOARD_KEY_FILE,
            ProxyKeys.TRUSTED,
            ManagementKeys.HOST,
            ManagementKeys.PORT,
            ManagementKeys.TOKEN_FILE,
            ManagementKeys.CERTIFICATE_FILE,
            ManagementKeys.KEY_FILE,
            MQTT_ENDPOINT,
            MQTT_HOST,
            MQTT_PORT,
            MQTT_PACKS_PER_SECOND,
            MQTT_CONNECTIONS_PER_GATEWAY,
            MQTT_CONNECTIONS_PER_ADDRESS,
            TLS_CERTIFICATE_FILE,
            TLS_KEY_FILE,
            TLS_HOST,
            TLS_PORT,
            TLS_12,
            BrokerKeys.URL,
            BrokerKeys.USERNAME,
            BrokerKeys.PASSWORD_FILE,
            BrokerKeys.CLIENT_ID,
            BrokerKeys.GROUP,
            BrokerKeys.TRUSTS_TOPICS,
            BrokerKeys.PACKS_PER_SECOND,
            BrokerKeys.BACKLOG_PACKS,
            KAFKA_BOOTSTRAP_SERVERS,
            OutsideKeys.KAFKA_TLS,
            OutsideKeys.KAFKA_CA_FILE,
            OutsideKeys.KAFKA_CERTIFICATE_FILE,
            OutsideKeys.KAFKA_KEY_FILE,
            OutsideKeys.KAFKA_SASL,
            OutsideKeys.KAFKA_USERNAME,
            OutsideKeys.KAFKA_PASSWORD_FILE,
            KAFKA_PARTITIONS,
            KAFKA_REPLICATION,
            OutsideKeys.KAFKA_MIN_IN_SYNC,
            OutsideKeys.KAFKA_INSTANCE,
            OutsideKeys.KAFKA_STANDBYS,
            KAFKA_RETENTION,
            KAFKA_RETENTION_BYTES,
            DATABASE_URL,
            DATABASE_USER,
            DATABASE_PASSWORD_FILE,
            OutsideKeys.DATABASE_TLS,
            OutsideKeys.DATABASE_CA_FILE,
            OutsideKeys.DATABASE_OWNER,
            OutsideKeys.DATABASE_OWNER_PASSWORD_FILE,
            FLEET_REGISTER,
            FLEET_SITES,
            FLEET_POLICY,
            FLEET_ENGINEERS,
            FLEET_PARTS,
            NOTICES_FILE,
            SECOND_FACTOR,
            SITE_LINK_LASTS,
            KEEP_TEMPERATURES,
            KEEP_CYCLES,
            KEEP_NOTICES,
            HISTORY_FLUSH,
            HISTORY_KEEP,
            HISTORY_KEEP_BYTES,
            VISITS_HORIZON,
            VISITS_CARE_GRACE,
            VISITS_SPARE,
            VISITS_TRAVEL,
            VISITS_SETTLE);

    private ConfigKeys() {}

    private static ConfigKey<Duration> kept(String what, Duration standard, String description) {
        return ConfigKey.of(
                "keep." + what,
                YamlType.duration(Retention.LEAST, Duration.ofDays(3650)),
                standard,
                standard.toDays() + "d",
                "s, m, h, d",
                description);
    }
}
