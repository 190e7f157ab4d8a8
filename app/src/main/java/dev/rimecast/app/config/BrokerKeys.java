package dev.rimecast.app.config;

import dev.rimecast.ingest.broker.BrokerLimits;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;

/** A broker between gateways and us: the section {@code mqtt-broker}. */
final class BrokerKeys {
    static final ConfigKey<String> URL = ConfigKey.optional(
            "mqtt-broker.url",
            YamlType.text(),
            "mqtts://mqtt.example:8883",
            "An MQTT 5 broker that gateways publish to; mqtt://host:port without TLS. Without it none is subscribed to.");
    static final ConfigKey<String> USERNAME = ConfigKey.optional(
            "mqtt-broker.username",
            YamlType.text(),
            "rimecast",
            "Our user there. It reads fleet/+/senml, fleet/+/senml-cbor and fleet/+/presence, and writes fleet/+/ack.");
    static final ConfigKey<String> PASSWORD_FILE = ConfigKey.optional(
            "mqtt-broker.password-file",
            YamlType.text(),
            "/run/secrets/mqtt-broker",
            "A file that holds nothing but the password of that user. The password itself is never written here.");
    static final ConfigKey<String> CLIENT_ID = ConfigKey.of(
            "mqtt-broker.client-id",
            YamlType.text(),
            "rimecast-ingest-1",
            "rimecast-ingest-1",
            "",
            "Another one for each instance of ingest, and the same at each start: the broker keeps under it, for 7 days,"
                    + " what this instance has not acknowledged.");
    static final ConfigKey<String> GROUP = ConfigKey.of(
            "mqtt-broker.group",
            YamlType.text(),
            "rimecast",
            "rimecast",
            "",
            "Instances of ingest with the same group share the packs (MQTT 5 shared subscription).");
    static final ConfigKey<Boolean> TRUSTS_TOPICS = ConfigKey.of(
            "mqtt-broker.trusts-topics",
            YamlType.bool(),
            false,
            "false",
            "",
            "Whether the broker lets each gateway publish below fleet/{its name}/ and nobody else (an access list as in"
                    + " deploy/mosquitto.conf). Only then is what it brings taken for a gateway that has a key of ours; for one whose"
                    + " keys were revoked never. Gateways that never had a key need no such setting.");
    static final ConfigKey<Integer> PACKS_PER_SECOND = ConfigKey.of(
            "mqtt-broker.packs-per-second",
            YamlType.integer(0, 1_000_000),
            (int) BrokerLimits.STANDARD.packsPerSecond(),
            "50",
            "packs a second and gateway",
            "What a gateway may bring through the broker for long, at each instance of ingest; a pack counts once for each 16 KiB. What is over"
                    + " and has a number is not kept: its gateway is not told that it is stored, and has to send it again. What is over without a"
                    + " number is kept among the rejects (too-many-packs), and what is far over only counted. Gateways in no register"
                    + " share one such limit. 0 switches it off.");
    static final ConfigKey<Integer> BACKLOG_PACKS = ConfigKey.of(
            "mqtt-broker.backlog-packs",
            YamlType.integer(BrokerLimits.LEAST_BACKLOG, 100_000_000),
            BrokerLimits.STANDARD.backlogPacks(),
            String.valueOf(BrokerLimits.STANDARD.backlogPacks()),
            "packs",
            "And what it may bring at once after a rest: at least what its store, and the broker while we are away, hold of it. A pack each 6 s"
                    + " for 7 days. At least 16: the largest pack counts as many.");

    private BrokerKeys() {}

    static BrokerLimits limits(YamlMap document) {
        int packs = PACKS_PER_SECOND.in(document);
        int backlog = BACKLOG_PACKS.in(document);
        return packs == 0 ? BrokerLimits.none() : new BrokerLimits(packs, backlog);
    }
}
