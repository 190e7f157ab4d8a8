package dev.rimecast.app.config;

import dev.rimecast.alerts.store.DatabaseLogin;
import dev.rimecast.telemetry.yaml.YamlMap;
import java.io.IOException;
import java.net.InetAddress;
import java.net.URLEncoder;
import java.net.UnknownHostException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/** An outside Kafka and an outside PostgreSQL: the sections {@code kafka} and {@code database}. Secrets come from files. */
final class Outside {
    private final YamlMap document;
    private final Path base;

    /** @param base what paths are relative to */
    Outside(YamlMap document, Path base) {
        this.document = document;
        this.base = base;
    }

    /** Settings of its clients; empty without a server. */
    Optional<Map<String, String>> kafka() {
        Optional<String> servers = ConfigKeys.KAFKA_BOOTSTRAP_SERVERS.optionalIn(document);
        boolean isTls = OutsideKeys.KAFKA_TLS.in(document);
        Map<String, String> client = new HashMap<>();
        servers.ifPresent(list -> client.put("bootstrap.servers", list));
        tls(client, isTls);
        boolean isSasl = sasl(client);
        if (isSasl && !isTls && servers.stream().flatMap(Outside::each).anyMatch(server -> !isThisMachine(server))) {
            problem(
                    OutsideKeys.KAFKA_SASL,
                    "would sign in at another machine for all on the way to read or take over: set "
                            + OutsideKeys.KAFKA_TLS.path() + ": true");
        }
        client.put("security.protocol", (isSasl ? "SASL_" : "") + (isTls ? "SSL" : "PLAINTEXT"));
        return servers.map(list -> client);
    }

    private void tls(Map<String, String> client, boolean isTls) {
        Optional<String> ca = text(OutsideKeys.KAFKA_CA_FILE);
        Optional<String> certificate = text(OutsideKeys.KAFKA_CERTIFICATE_FILE);
        Optional<String> key = text(OutsideKeys.KAFKA_KEY_FILE);
        if (certificate.isPresent() != key.isPresent()) {
            problem(
                    certificate.isPresent() ? OutsideKeys.KAFKA_KEY_FILE : OutsideKeys.KAFKA_CERTIFICATE_FILE,
                    "is missing: certificate and key belong together");
        }
        if (!isTls) {
            Stream.of(OutsideKeys.KAFKA_CA_FILE, OutsideKeys.KAFKA_CERTIFICATE_FILE)
                    .filter(each -> each.optionalIn(document).isPresent())
                    .forEach(each -> problem(each, "does nothing without " + OutsideKeys.KAFKA_TLS.path() + ": true"));
            return;
        }
        client.put("ssl.protocol", "TLSv1.3");
        client.put("ssl.enabled.protocols", "TLSv1.3,TLSv1.2");
        client.put("ssl.endpoint.identification.algorithm", "https");
        ca.ifPresent(pem -> {
            client.put("ssl.truststore.type", "PEM");
            client.put("ssl.truststore.certificates", pem);
        });
        if (certificate.isPresent() && key.isPresent()) {
            client.put("ssl.keystore.type", "PEM");
            client.put("ssl.keystore.certificate.chain", certificate.get());
            client.put("ssl.keystore.key", key.get());
        }
    }

    private boolean sasl(Map<String, String> client) {
        Optional<OutsideKeys.Sasl> how = OutsideKeys.KAFKA_SASL.optionalIn(document);
        Optional<String> user = OutsideKeys.KAFKA_USERNAME.optionalIn(document);
        Optional<String> password = text(OutsideKeys.KAFKA_PASSWORD_FILE).map(String::strip);
        if (how.isEmpty()) {
            Stream.of(OutsideKeys.KAFKA_USERNAME, OutsideKeys.KAFKA_PASSWORD_FILE)
                    .filter(each -> each.optionalIn(document).isPresent())
                    .forEach(each -> problem(each, "does nothing without " + OutsideKeys.KAFKA_SASL.path()));
            return false;
        }
        if (user.isEmpty() || password.isEmpty()) {
            problem(
                    user.isEmpty() ? OutsideKeys.KAFKA_USERNAME : OutsideKeys.KAFKA_PASSWORD_FILE,
                    "is missing: " + OutsideKeys.KAFKA_SASL.path() + " needs user and password");
            return true;
        }
        String module = how.get() == OutsideKeys.Sasl.PLAIN ? "plain.PlainLoginModule" : "scram.ScramLoginModule";
        client.put("sasl.mechanism", how.get().mechanism());
        client.put(
                "sasl.jaas.config",
                "org.apache.kafka.common.security." + module + " required username=" + quoted(user.get()) + " password="
                        + quoted(password.get()) + ";");
        return true;
    }

    private static String quoted(String text) {
        return '"' + text.replace("\\", "\\\\").replace("\"", "\\\"") + '"';
    }

    private static Stream<String> each(String servers) {
        return Stream.of(servers.split(",")).map(String::strip);
    }

    /** Where the database is, and as whom; empty without one. */
    Optional<DatabaseLogin> database() {
        Optional<String> url = ConfigKeys.DATABASE_URL.optionalIn(document);
        String user = ConfigKeys.DATABASE_USER.in(document);
        String password =
                text(ConfigKeys.DATABASE_PASSWORD_FILE).map(String::strip).orElse("");
        Optional<String> owner = OutsideKeys.DATABASE_OWNER.optionalIn(document);
        Optional<String> ownerPassword =
                text(OutsideKeys.DATABASE_OWNER_PASSWORD_FILE).map(String::strip);
        if (owner.isPresent() != ownerPassword.isPresent()) {
            problem(
                    owner.isPresent() ? OutsideKeys.DATABASE_OWNER_PASSWORD_FILE : OutsideKeys.DATABASE_OWNER,
                    "is missing: the owner and its password belong together");
        }
        if (owner.filter(user::equals).isPresent()) {
            problem(OutsideKeys.DATABASE_OWNER, "must be another role than " + ConfigKeys.DATABASE_USER.path());
        }
        url.filter(address -> address.matches("(?i).*[?&]password=.*"))
                .ifPresent(address -> problem(
                        ConfigKeys.DATABASE_URL,
                        "has a password in it, which would be printed: put it into a file that "
                                + ConfigKeys.DATABASE_PASSWORD_FILE.path() + " names"));
        String tls = databaseTls(url);
        return url.map(address -> new DatabaseLogin(
                tls.isEmpty() ? address : address + (address.contains("?") ? "&" : "?") + tls,
                user,
                password,
                owner.flatMap(name -> ownerPassword.map(word -> new DatabaseLogin.Owner(name, word)))));
    }

    private String databaseTls(Optional<String> url) {
        boolean isTls = OutsideKeys.DATABASE_TLS.in(document);
        Optional<Path> ca = Config.existing(document, OutsideKeys.DATABASE_CA_FILE, base);
        if (!isTls) {
            if (ca.isPresent()) {
                problem(
                        OutsideKeys.DATABASE_CA_FILE,
                        "does nothing without " + OutsideKeys.DATABASE_TLS.path() + ": true");
            }
            return "";
        }
        if (url.isPresent() && OutsideKeys.DATABASE_CA_FILE.optionalIn(document).isEmpty()) {
            problem(
                    OutsideKeys.DATABASE_CA_FILE,
                    "is missing: name the certificate that signed the server's, or the server's own");
        }
        if (url.filter(address -> address.toLowerCase(java.util.Locale.ROOT).contains("sslmode="))
                .isPresent()) {
            problem(ConfigKeys.DATABASE_URL, "has sslmode in it, which " + OutsideKeys.DATABASE_TLS.path() + " sets");
        }
        return "sslmode=verify-full"
                + ca.map(file -> "&sslrootcert="
                                + URLEncoder.encode(file.toAbsolutePath().toString(), StandardCharsets.UTF_8))
                        .orElse("");
    }

    /** What stands in a file; a file that can't be read is a problem that is told. */
    private Optional<String> text(ConfigKey<String> key) {
        Optional<Path> file = Config.existing(document, key, base);
        if (file.isEmpty() || !Files.isReadable(file.get())) {
            return Optional.empty();
        }
        try {
            String text = Files.readString(file.get());
            if (text.isBlank()) {
                problem(key, "names a file with nothing in it: " + file.get());
            }
            return Optional.of(text);
        } catch (IOException e) {
            problem(key, "can't be read: " + e.getMessage());
            return Optional.empty();
        }
    }

    private void problem(ConfigKey<?> key, String what) {
        document.map(key.section()).problem(key.name(), what);
    }

    private static boolean isThisMachine(String server) {
        int port = server.lastIndexOf(':');
        try {
            return InetAddress.getByName(port < 0 ? server : server.substring(0, port))
                    .isLoopbackAddress();
        } catch (UnknownHostException unknownNow) {
            return false;
        }
    }
}
