package dev.rimecast.engines;

import java.nio.file.Path;
import java.util.Properties;

/** The settings of a single broker that shares its machine with the rest of the product. */
final class BrokerConfig {
    static final int NODE_ID = 1;
    static final String CONTROLLER_LISTENER = "CONTROLLER";

    private static final String HOST = "127.0.0.1:";

    private BrokerConfig() {}

    static Properties of(
            Path logDirectory, int brokerPort, int controllerPort, KafkaLogin login, KafkaSettings settings) {
        Properties p = new Properties();
        p.setProperty("process.roles", "broker,controller");
        p.setProperty("node.id", String.valueOf(NODE_ID));
        p.setProperty("controller.quorum.voters", NODE_ID + "@" + HOST + controllerPort);
        p.setProperty(
                "listeners",
                "CLIENT://" + HOST + brokerPort + "," + CONTROLLER_LISTENER + "://" + HOST + controllerPort);
        p.setProperty("advertised.listeners", "CLIENT://" + HOST + brokerPort);
        p.setProperty(
                "listener.security.protocol.map",
                "CLIENT:" + KafkaLogin.PROTOCOL + "," + CONTROLLER_LISTENER + ":" + KafkaLogin.PROTOCOL);
        login.configure(p, "CLIENT", CONTROLLER_LISTENER);
        p.setProperty("inter.broker.listener.name", "CLIENT");
        p.setProperty("controller.listener.names", CONTROLLER_LISTENER);
        p.setProperty("log.dirs", logDirectory.toString());

        for (String topic : new String[] {"offsets.topic", "transaction.state.log", "share.coordinator.state.topic"}) {
            p.setProperty(topic + ".replication.factor", "1");
            // A handful of groups and transactions: fifty partitions each would be files and memory for nothing.
            p.setProperty(topic + ".num.partitions", "4");
        }
        p.setProperty("transaction.state.log.min.isr", "1");
        p.setProperty("share.coordinator.state.topic.min.isr", "1");
        p.setProperty("default.replication.factor", "1");
        p.setProperty("min.insync.replicas", "1");
        p.setProperty("auto.create.topics.enable", "false");
        // One member starts alone here: waiting for others only delays the start.
        p.setProperty("group.initial.rebalance.delay.ms", "0");

        // The only broker has nobody to hand over to. Fenced after a pause of the machine, it would leave its
        // partitions
        // without a leader for a moment, and transactions that are being decided would stay open.
        p.setProperty("broker.session.timeout.ms", "600000");
        // What a killed producer has left open holds up its readers: by default it is looked for every ten seconds.
        p.setProperty("transaction.abort.timed.out.transaction.cleanup.interval.ms", "1000");

        if (settings.flushEveryMessage()) {
            // Broker-wide: offsets and transactions must survive what the data survives.
            p.setProperty("log.flush.interval.messages", "1");
        }
        p.setProperty("log.message.timestamp.type", "LogAppendTime");
        p.setProperty("log.segment.bytes", String.valueOf(settings.segmentBytes()));
        p.setProperty("log.retention.bytes", String.valueOf(settings.defaultRetentionBytes()));
        p.setProperty("offsets.topic.segment.bytes", String.valueOf(16 << 20));
        p.setProperty("transaction.state.log.segment.bytes", String.valueOf(16 << 20));
        p.setProperty("metadata.log.segment.bytes", String.valueOf(16 << 20));
        // By default the only controller writes and forces an empty record twice a second, to be seen by others that
        // are not there. Each has a buffer of 8 MiB; two at once after a pause of the machine, and both stay for good.
        p.setProperty("metadata.max.idle.interval.ms", "60000");
        p.setProperty("log.index.size.max.bytes", String.valueOf(2 << 20));
        // The default buffer of the cleaner is 128 MiB of heap: as much as the rest of the broker together.
        p.setProperty("log.cleaner.dedupe.buffer.size", String.valueOf(8 << 20));

        p.setProperty("num.network.threads", "2");
        p.setProperty("num.io.threads", "4");
        p.setProperty("background.threads", "2");
        p.setProperty("group.coordinator.threads", "1");
        p.setProperty("share.coordinator.threads", "1");
        settings.brokerConfig().forEach(p::setProperty);
        return p;
    }
}
