package dev.rimecast.app.config;

import dev.rimecast.app.server.Role;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.dashboard.DashboardSettings;
import dev.rimecast.dashboard.ManagementSettings;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.nio.file.Path;
import java.util.Optional;
import java.util.Set;

/** Where programs ask that look after a process: the section {@code management}. */
final class ManagementKeys {
    static final ConfigKey<String> HOST = ConfigKey.of(
            "management.host",
            YamlType.text(),
            "127.0.0.1",
            "127.0.0.1",
            "",
            "Address of /livez, /readyz and /metrics of a process without pages. Other than loopback addresses take a certificate and"
                    + " a token.");
    static final ConfigKey<Integer> PORT = ConfigKey.optional(
            "management.port",
            YamlType.integer(0, 65535),
            "8091",
            "Its port; 0 takes a free one. Without it, by the first role of the process: 8091 ingest, 8092 analytics, 8093 alerts,"
                    + " 8094 history, or none where that is taken; a process with pages has all of it there, and listens here only with it.");
    static final ConfigKey<String> TOKEN_FILE = ConfigKey.optional(
            "management.token-file",
            YamlType.text(),
            "/run/secrets/scrape",
            "A file that holds nothing but the bearer token that /metrics asks for: 32 characters or more. Without it everybody on this"
                    + " machine may read it; there is no machine and no person in it.");
    static final ConfigKey<String> CERTIFICATE_FILE = ConfigKey.optional(
            "management.certificate-file",
            YamlType.text(),
            "pages.crt",
            "A certificate in PEM, as for the pages. With it this address is served over TLS only.");
    static final ConfigKey<String> KEY_FILE = ConfigKey.optional(
            "management.key-file",
            YamlType.text(),
            "pages.key",
            "Its private key in PEM (PKCS 8), without a password.");

    private static final int FIRST_PORT = 8091;

    private ManagementKeys() {}

    static Optional<ServerSettings.Management> read(YamlMap document, Set<Role> roles, Path base) {
        Optional<DashboardSettings.Tls> tls = Config.tls(document, CERTIFICATE_FILE, KEY_FILE, base);
        Optional<Integer> port = PORT.optionalIn(document);
        Optional<String> token =
                Config.existing(document, TOKEN_FILE, base).map(file -> Config.password(document, TOKEN_FILE, file));
        if (token.filter(text -> text.length() < ManagementSettings.SHORTEST_TOKEN)
                .isPresent()) {
            document.map(TOKEN_FILE.section())
                    .problem(
                            TOKEN_FILE.name(),
                            "names a file with too short a token: it takes " + ManagementSettings.SHORTEST_TOKEN
                                    + " characters or more, e.g. of openssl rand -hex 32");
        }
        ServerSettings.Address listen =
                Config.address(document, HOST, port.orElseGet(() -> standardPort(roles)), tls.isPresent());
        if (token.isEmpty() && tls.isPresent() && !Config.isLoopback(listen.host())) {
            document.map(TOKEN_FILE.section())
                    .problem(
                            TOKEN_FILE.name(),
                            "is missing: " + HOST.path() + " is " + listen.host()
                                    + ", and counters are not for everybody on the network");
        }
        return roles.contains(Role.DASHBOARD) && port.isEmpty()
                ? Optional.empty()
                : Optional.of(new ServerSettings.Management(listen, port.isPresent(), tls, token));
    }

    /** By the first of the roles, in their own order: processes of one machine then find ports of their own. */
    private static int standardPort(Set<Role> roles) {
        return FIRST_PORT + roles.stream().mapToInt(Role::ordinal).min().orElse(0);
    }
}
