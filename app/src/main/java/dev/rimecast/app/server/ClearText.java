package dev.rimecast.app.server;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * Which outside services on other machines are spoken to in the clear: whoever is on the way reads what machines say, and can change
 * it. It is allowed, since a network can be private; it is told at the start and in the state of health, so that nobody does it
 * unaware.
 */
final class ClearText {
    /** Hosts of {@code jdbc:postgresql://one:5432,other/database}; without them it is this machine. */
    private static final Pattern HOSTS = Pattern.compile("jdbc:postgresql://([^/?]*)(?:[/?].*)?");

    private static final Pattern ENCRYPTED = Pattern.compile("(?i).*[?&]sslmode=(require|verify-ca|verify-full)(&.*)?");

    private ClearText() {}

    /** A sentence for each service, with the setting that encrypts the way to it. */
    static List<String> warnings(ServerSettings settings) {
        List<String> warnings = new ArrayList<>();
        settings.kafka()
                .filter(client ->
                        !client.getOrDefault("security.protocol", "PLAINTEXT").endsWith("SSL"))
                .ifPresent(client -> each(client.getOrDefault("bootstrap.servers", ""))
                        .filter(server -> !isThisMachine(server))
                        .findFirst()
                        .ifPresent(server -> warnings.add(told("Kafka at " + server, "kafka.tls"))));
        settings.database().ifPresent(login -> {
            Matcher hosts = HOSTS.matcher(login.jdbcUrl());
            if (hosts.matches() && !ENCRYPTED.matcher(login.jdbcUrl()).matches()) {
                each(hosts.group(1))
                        .filter(server -> !isThisMachine(server))
                        .findFirst()
                        .ifPresent(server -> warnings.add(told("PostgreSQL at " + server, "database.tls")));
            }
        });
        settings.mqtt()
                .broker()
                .filter(broker -> !broker.isEncrypted() && !isThisMachine(broker.host()))
                .ifPresent(broker -> warnings.add("The MQTT broker at " + broker.host()
                        + " is on another machine and spoken to in the clear: write mqtts:// in mqtt-broker.url"));
        return warnings;
    }

    private static String told(String service, String setting) {
        return service + " is on another machine and spoken to in the clear: set " + setting + ": true";
    }

    private static Stream<String> each(String servers) {
        return Stream.of(servers.split(",")).map(String::strip);
    }

    private static boolean isThisMachine(String server) {
        String host = server.replaceFirst(":[0-9]+$", "");
        if (host.isEmpty()) {
            return true;
        }
        try {
            return InetAddress.getByName(host).isLoopbackAddress();
        } catch (UnknownHostException unknownNow) {
            return false;
        }
    }
}
