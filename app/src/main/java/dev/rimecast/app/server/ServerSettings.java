package dev.rimecast.app.server;

import dev.rimecast.alerts.AlertsSettings;
import dev.rimecast.alerts.keep.Retention;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.people.FactorRule;
import dev.rimecast.alerts.store.DatabaseLogin;
import dev.rimecast.alerts.visits.VisitMeans;
import dev.rimecast.dashboard.DashboardSettings;
import dev.rimecast.dashboard.TrustedProxies;
import dev.rimecast.history.HistorySettings;
import dev.rimecast.history.store.Keep;
import dev.rimecast.ingest.IngestSettings;
import dev.rimecast.ingest.broker.BrokerSettings;
import dev.rimecast.ingest.mqtt.ConnectionLimits;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * What the server needs to start. Made from a configuration file, or by the demonstration for itself.
 *
 * @param data where everything that must survive is kept
 * @param roles stages that this process runs
 * @param management where programs ask that look after the process; empty: at the pages only
 * @param http where the pages are
 * @param pagesTls how they show that they are ours; empty: in the clear
 * @param mqtt how packs come in
 * @param proxies in front of the pages, which are believed when they say whom a request is from
 * @param kafka client settings of an outside Kafka; empty for one inside the process
 * @param topics how the topics are made
 * @param member which one of several with the same roles this is; empty where it is the only one
 * @param database an outside PostgreSQL; empty for one of our own
 * @param notices who is told of what
 * @param secondFactor whose accounts must have one
 * @param siteLinkLasts how long a site can answer by a link
 * @param retention how long the database keeps what comes without end
 * @param visits who can be sent, and what takes time to come
 * @param files register, sites and policy to bring in at the start
 * @param keepFreeBytes with less room on the disk of {@code data} nothing is taken in; 0: whatever the room
 * @param past how the history is written
 * @param isDemo whether it has accounts that need no password, and a browser comes in by itself
 */
public record ServerSettings(
        Path data,
        Set<Role> roles,
        Optional<Management> management,
        Address http,
        Optional<DashboardSettings.Tls> pagesTls,
        TrustedProxies proxies,
        Mqtt mqtt,
        Optional<Map<String, String>> kafka,
        TopicShape topics,
        Optional<Member> member,
        Optional<DatabaseLogin> database,
        Files files,
        NoticeBook notices,
        FactorRule secondFactor,
        Duration siteLinkLasts,
        Retention retention,
        VisitMeans visits,
        long keepFreeBytes,
        Past past,
        boolean isDemo) {
    /** Three segments of Kafka and some. */
    public static final long KEEP_FREE_BYTES = 500_000_000;

    /** Where no proxy is believed. */
    public ServerSettings(
            Path data,
            Set<Role> roles,
            Optional<Management> management,
            Address http,
            Optional<DashboardSettings.Tls> pagesTls,
            Mqtt mqtt,
            Optional<Map<String, String>> kafka,
            TopicShape topics,
            Optional<Member> member,
            Optional<DatabaseLogin> database,
            Files files,
            NoticeBook notices,
            FactorRule secondFactor,
            Duration siteLinkLasts,
            Retention retention,
            VisitMeans visits,
            long keepFreeBytes,
            Past past,
            boolean isDemo) {
        this(
                data,
                roles,
                management,
                http,
                pagesTls,
                TrustedProxies.NONE,
                mqtt,
                kafka,
                topics,
                member,
                database,
                files,
                notices,
                secondFactor,
                siteLinkLasts,
                retention,
                visits,
                keepFreeBytes,
                past,
                isDemo);
    }

    /** Of an installation that tells nobody of anything. */
    public ServerSettings(
            Path data,
            Set<Role> roles,
            Address http,
            Mqtt mqtt,
            Optional<Map<String, String>> kafka,
            TopicShape topics,
            Optional<DatabaseLogin> database,
            Files files) {
        this(
                data,
                roles,
                Optional.empty(),
                http,
                Optional.empty(),
                mqtt,
                kafka,
                topics,
                Optional.empty(),
                database,
                files,
                NoticeBook.NONE,
                FactorRule.OPTIONAL,
                AlertsSettings.SITE_LINK_LASTS,
                Retention.STANDARD,
                VisitMeans.STANDARD,
                KEEP_FREE_BYTES,
                Past.STANDARD,
                false);
    }

    /**
     * How the history is written.
     *
     * @param flush so long after it was read a record is in a file at the latest
     * @param keep how long and how much
     */
    public record Past(Duration flush, Keep keep) {
        public static final Past STANDARD = new Past(HistorySettings.FLUSH, Keep.STANDARD);
    }

    /**
     * Where programs ask that look after the process.
     *
     * @param isChosen whether somebody chose the port; one that nobody chose may be taken, and is done without then
     * @param tls how it shows that it is ours; empty: in the clear, on a loopback address
     * @param token what counters are shown for; empty: to everybody on this machine
     */
    public record Management(
            Address listen, boolean isChosen, Optional<DashboardSettings.Tls> tls, Optional<String> token) {

        /** Without the token. */
        @Override
        public String toString() {
            return "Management[" + listen + ']';
        }
    }

    /** Host and port to listen on; port 0 takes a free one. */
    public record Address(String host, int port) {}

    /**
     * How packs come in.
     *
     * @param hasEndpoint whether gateways can connect to us
     * @param listen own endpoint
     * @param packsPerSecond limit for each gateway at the own endpoint; 0 for none
     * @param connections how many there may be there at a time
     * @param broker to subscribe to; empty: none
     */
    public record Mqtt(
            boolean hasEndpoint,
            Address listen,
            Optional<IngestSettings.Secure> secure,
            int packsPerSecond,
            ConnectionLimits connections,
            Optional<BrokerSettings> broker) {

        /** With the usual numbers of connections. */
        public Mqtt(
                boolean hasEndpoint,
                Address listen,
                Optional<IngestSettings.Secure> secure,
                int packsPerSecond,
                Optional<BrokerSettings> broker) {
            this(hasEndpoint, listen, secure, packsPerSecond, ConnectionLimits.STANDARD, broker);
        }

        /** The own endpoint and no broker. */
        public Mqtt(Address listen, int packsPerSecond) {
            this(true, listen, Optional.empty(), packsPerSecond, Optional.empty());
        }
    }

    /**
     * @param partitions of the sites' logs, fixed when the topics are created
     * @param replication copies on an outside Kafka
     * @param minInSync how many of those must have a write before it counts
     * @param retention how long the sites' logs are kept
     * @param retentionBytes and at most so much of them in a partition
     */
    public record TopicShape(
            int partitions, short replication, int minInSync, Duration retention, long retentionBytes) {
        public static final TopicShape ONE_MACHINE = new TopicShape(12, (short) 1, 1, Duration.ofDays(30), 1L << 30);
    }

    /**
     * One of several processes with the same roles.
     *
     * @param name its own, the same at each start
     * @param standbys copies of what analytics knows that other instances hold ready
     */
    public record Member(String name, int standbys) {
        public Member {
            if (!isLegal(name)) {
                throw new IllegalArgumentException("name must be 1 to 40 letters, digits, '-' or '_', was " + name);
            }
        }

        /** Whether it can be part of the names that Kafka knows us by. */
        public static boolean isLegal(String name) {
            return name.matches("[A-Za-z0-9_-]{1,40}");
        }
    }

    public record Files(Optional<Path> register, Optional<Path> sites, Optional<Path> policy) {
        public static final Files NONE = new Files(Optional.empty(), Optional.empty(), Optional.empty());
    }

    public ServerSettings {
        roles = Set.copyOf(roles);
        kafka = kafka.map(Map::copyOf);
        if (roles.isEmpty()) {
            throw new IllegalArgumentException(
                    "roles must name at least one of ingest, analytics, alerts, history, dashboard");
        }
    }

    /** The same, and programs that look after the process ask there. */
    public ServerSettings withManagement(Management there) {
        return new ServerSettings(
                data,
                roles,
                Optional.of(there),
                http,
                pagesTls,
                proxies,
                mqtt,
                kafka,
                topics,
                member,
                database,
                files,
                notices,
                secondFactor,
                siteLinkLasts,
                retention,
                visits,
                keepFreeBytes,
                past,
                isDemo);
    }

    /** Without secrets. */
    @Override
    public String toString() {
        return "ServerSettings[" + data + ", " + roles + ", " + http + "]";
    }
}
