package dev.rimecast.app.config;

import dev.rimecast.alerts.keep.Retention;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.app.server.Role;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.dashboard.DashboardSettings;
import dev.rimecast.history.store.Keep;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlOverride;
import dev.rimecast.telemetry.yaml.YamlProblems;
import dev.rimecast.telemetry.yaml.YamlType;
import java.io.IOException;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Reads the configuration file. A key that is unknown, twice there or wrong fails with its path and line, and everything
 * that is wrong is told in one go. Paths in the file are relative to the file.
 */
public final class Config {
    private static final String ROLES_VARIABLE = "RIMECAST_ROLES";

    private Config() {}

    /**
     * Reads {@code file} with the environment's values over it.
     *
     * @throws IOException if it can't be read
     * @throws dev.rimecast.telemetry.yaml.YamlProblems if anything in it is wrong
     */
    public static ServerSettings load(Path file, Map<String, String> environment) throws IOException {
        Path base = Optional.ofNullable(file.toAbsolutePath().getParent()).orElse(Path.of(""));
        return read(file.toString(), Yaml.text(file), environment, base);
    }

    /** The defaults with the environment's values over them; paths are relative to the working directory. */
    public static ServerSettings standard(Map<String, String> environment) {
        return read("no configuration file", "", environment, Path.of(""));
    }

    static ServerSettings read(String source, String text, Map<String, String> environment, Path base) {
        return Yaml.read(source, text, overrides(environment), document -> settings(document, base));
    }

    private static Map<String, YamlOverride> overrides(Map<String, String> environment) {
        Map<String, YamlOverride> overrides = new HashMap<>();
        for (ConfigKey<?> key : ConfigKeys.ALL) {
            String value = environment.get(key.variable());
            if (value != null) {
                overrides.put(key.path(), new YamlOverride(key.variable(), value));
            }
        }
        String roles = environment.get(ROLES_VARIABLE);
        if (roles != null) {
            overrides.put("roles", new YamlOverride(ROLES_VARIABLE, roles));
        }
        return overrides;
    }

    private static ServerSettings settings(YamlMap document, Path base) {
        Set<Role> roles = roles(document);
        Optional<DashboardSettings.Tls> pagesTls =
                tls(document, ConfigKeys.DASHBOARD_CERTIFICATE_FILE, ConfigKeys.DASHBOARD_KEY_FILE, base);
        return new ServerSettings(
                base.resolve(ConfigKeys.DATA_DIRECTORY.in(document)),
                roles,
                ManagementKeys.read(document, roles, base),
                address(
                        document,
                        ConfigKeys.DASHBOARD_HOST,
                        ConfigKeys.DASHBOARD_PORT.in(document),
                        pagesTls.isPresent()),
                pagesTls,
                ProxyKeys.read(document),
                WaysIn.read(
                        document,
                        roles,
                        address(document, ConfigKeys.MQTT_HOST, ConfigKeys.MQTT_PORT.in(document), false),
                        existing(document, BrokerKeys.PASSWORD_FILE, base)
                                .map(file -> password(document, BrokerKeys.PASSWORD_FILE, file)),
                        base),
                new Outside(document, base).kafka(),
                topics(document),
                member(document),
                new Outside(document, base).database(),
                new ServerSettings.Files(
                        existing(document, ConfigKeys.FLEET_REGISTER, base),
                        existing(document, ConfigKeys.FLEET_SITES, base),
                        existing(document, ConfigKeys.FLEET_POLICY, base)),
                notices(document, base),
                ConfigKeys.SECOND_FACTOR.in(document),
                ConfigKeys.SITE_LINK_LASTS.in(document),
                new Retention(
                        ConfigKeys.KEEP_TEMPERATURES.in(document),
                        ConfigKeys.KEEP_CYCLES.in(document),
                        ConfigKeys.KEEP_NOTICES.in(document)),
                VisitFiles.read(document, base),
                ConfigKeys.DATA_KEEP_FREE.in(document),
                new ServerSettings.Past(
                        ConfigKeys.HISTORY_FLUSH.in(document),
                        new Keep(ConfigKeys.HISTORY_KEEP.in(document), ConfigKeys.HISTORY_KEEP_BYTES.in(document))),
                false);
    }

    private static ServerSettings.TopicShape topics(YamlMap document) {
        int replication = ConfigKeys.KAFKA_REPLICATION.in(document);
        int minInSync = OutsideKeys.KAFKA_MIN_IN_SYNC.in(document);
        if (minInSync > replication) {
            problem(
                    document,
                    OutsideKeys.KAFKA_MIN_IN_SYNC,
                    "is " + minInSync + ", but " + ConfigKeys.KAFKA_REPLICATION.path() + " makes only " + replication
                            + ": nothing could ever be written");
        }
        return new ServerSettings.TopicShape(
                ConfigKeys.KAFKA_PARTITIONS.in(document),
                (short) replication,
                Math.min(minInSync, replication),
                ConfigKeys.KAFKA_RETENTION.in(document),
                ConfigKeys.KAFKA_RETENTION_BYTES.in(document));
    }

    private static Optional<ServerSettings.Member> member(YamlMap document) {
        Optional<String> name = OutsideKeys.KAFKA_INSTANCE.optionalIn(document);
        int standbys = OutsideKeys.KAFKA_STANDBYS.in(document);
        if (name.isPresent()
                && ConfigKeys.KAFKA_BOOTSTRAP_SERVERS.optionalIn(document).isEmpty()) {
            problem(
                    document,
                    OutsideKeys.KAFKA_INSTANCE,
                    "needs " + ConfigKeys.KAFKA_BOOTSTRAP_SERVERS.path() + ": several processes share one Kafka");
        }
        if (name.filter(given -> !ServerSettings.Member.isLegal(given)).isPresent()) {
            problem(
                    document,
                    OutsideKeys.KAFKA_INSTANCE,
                    "must be 1 to 40 letters, digits, '-' or '_', found " + name.get());
            return Optional.empty();
        }
        return name.map(given -> new ServerSettings.Member(given, standbys));
    }

    private static void problem(YamlMap document, ConfigKey<?> key, String what) {
        document.map(key.section()).problem(key.name(), what);
    }

    static Optional<DashboardSettings.Tls> tls(
            YamlMap document, ConfigKey<String> certificateFile, ConfigKey<String> keyFile, Path base) {
        Optional<Path> certificate = existing(document, certificateFile, base);
        Optional<Path> key = existing(document, keyFile, base);
        if (certificate.isPresent() != key.isPresent()) {
            ConfigKey<String> missing = certificate.isPresent() ? keyFile : certificateFile;
            document.map(missing.section()).problem(missing.name(), "is missing: certificate and key belong together");
        }
        return certificate.flatMap(crt -> key.map(file -> new DashboardSettings.Tls(crt, file)));
    }

    /** What is wrong in that file is told together with what is wrong in this one. */
    private static NoticeBook notices(YamlMap document, Path base) {
        Optional<Path> file = existing(document, ConfigKeys.NOTICES_FILE, base).filter(Files::isReadable);
        if (file.isEmpty()) {
            return NoticeBook.NONE;
        }
        YamlMap section = document.map(ConfigKeys.NOTICES_FILE.section());
        try {
            return NoticeBook.read(file.get());
        } catch (YamlProblems wrong) {
            wrong.problems().forEach(problem -> section.problem(ConfigKeys.NOTICES_FILE.name(), problem.toString()));
        } catch (IOException e) {
            section.problem(ConfigKeys.NOTICES_FILE.name(), "can't be read: " + e.getMessage());
        }
        return NoticeBook.NONE;
    }

    private static Set<Role> roles(YamlMap document) {
        if (!document.has("roles")) {
            return Role.all();
        }
        List<Role> named = document.list("roles", YamlType.oneOf(Role.class, Role::code));
        if (named.isEmpty()) {
            document.problem("roles", "must name at least one of ingest, analytics, alerts, history, dashboard");
            return Role.all();
        }
        return new LinkedHashSet<>(named);
    }

    /** @param isEncrypted without that it must be a loopback address */
    static ServerSettings.Address address(YamlMap document, ConfigKey<String> host, int port, boolean isEncrypted) {
        String name = host.in(document);
        if (!isEncrypted) {
            try {
                if (!InetAddress.getByName(name).isLoopbackAddress()) {
                    document.map(host.section())
                            .problem(
                                    host.name(),
                                    "must be a loopback address such as 127.0.0.1, found " + name
                                            + ": without TLS, anything else would let all on the network read along");
                }
            } catch (UnknownHostException e) {
                document.map(host.section()).problem(host.name(), "is no address that this machine knows: " + name);
            }
        }
        return new ServerSettings.Address(name, port);
    }

    static boolean isLoopback(String host) {
        try {
            return InetAddress.getByName(host).isLoopbackAddress();
        } catch (UnknownHostException unknownNow) {
            return false;
        }
    }

    static String password(YamlMap document, ConfigKey<String> key, Path file) {
        try {
            return Files.readString(file).strip();
        } catch (IOException e) {
            document.map(key.section()).problem(key.name(), "can't be read: " + e.getMessage());
            return "";
        }
    }

    static Optional<Path> existing(YamlMap document, ConfigKey<String> key, Path base) {
        Optional<Path> path = key.optionalIn(document).map(base::resolve);
        if (path.isPresent() && !Files.isReadable(path.get())) {
            document.map(key.section()).problem(key.name(), "names a file that can't be read: " + path.get());
        }
        return path;
    }
}
