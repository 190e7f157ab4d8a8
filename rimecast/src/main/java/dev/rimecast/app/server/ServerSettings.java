package dev.rimecast.app.server;

import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * What the server needs to start. Made from a configuration file, or by the demonstration for itself.
 *
 * @param data where everything that must survive is kept
 * @param roles stages that this process runs
 * @param http where the pages are
 * @param mqtt where gateways connect
 * @param kafka client settings of an outside Kafka; empty for one inside the process
 * @param partitions of the site's log, fixed when the topics are created
 * @param database an outside PostgreSQL; empty for one of our own
 * @param files register, sites and policy to bring in at the start
 * @param demo whether the pages say that this is a demonstration
 */
public record ServerSettings(
        Path data,
        Set<Role> roles,
        Address http,
        Mqtt mqtt,
        Optional<Map<String, String>> kafka,
        int partitions,
        Optional<Database> database,
        Files files,
        boolean demo) {

    /** Host and port to listen on; port 0 takes a free one. */
    public record Address(String host, int port) {}

    /**
     * @param listen own endpoint
     * @param packsPerSecond limit for each gateway; 0 for none
     */
    public record Mqtt(Address listen, int packsPerSecond) {}

    public record Database(String jdbcUrl, String user, String password) {
        @Override
        public String toString() {
            return "Database[" + jdbcUrl + ", user " + user + "]";
        }
    }

    public record Files(Optional<Path> register, Optional<Path> sites, Optional<Path> policy) {
        public static final Files NONE = new Files(Optional.empty(), Optional.empty(), Optional.empty());
    }

    public ServerSettings {
        roles = Set.copyOf(roles);
        kafka = kafka.map(Map::copyOf);
        if (roles.isEmpty()) {
            throw new IllegalArgumentException("roles must name at least one of ingest, analytics, alerts, dashboard");
        }
    }
}
