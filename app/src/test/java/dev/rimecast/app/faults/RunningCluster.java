package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Assumptions;

/** The cluster that deploy/cluster.sh has brought up. */
final class RunningCluster {
    private final Path script = Path.of(property("cluster.script"));
    private final Map<String, String> kafka;

    private RunningCluster() throws IOException {
        kafka = Map.of(
                "bootstrap.servers",
                property("cluster.kafka"),
                "security.protocol",
                "SSL",
                "ssl.keystore.type",
                "PEM",
                "ssl.keystore.certificate.chain",
                secret("rimecast.crt"),
                "ssl.keystore.key",
                secret("rimecast.key"),
                "ssl.truststore.type",
                "PEM",
                "ssl.truststore.certificates",
                secret("kafka-ca.crt"));
    }

    /** One of those that deploy/secrets.sh has made. */
    private String secret(String name) throws IOException {
        return Files.readString(script.resolveSibling("secrets").resolve(name)).strip();
    }

    static RunningCluster required() throws IOException {
        boolean isThere = System.getProperty("cluster.script") != null;
        String reason = "no cluster: deploy/cluster.sh up, then deploy/cluster.sh prove";
        if (!isThere) {
            System.out.println("skipped: " + reason);
        }
        Assumptions.assumeTrue(isThere, reason);
        return new RunningCluster();
    }

    private static String property(String name) {
        return Optional.ofNullable(System.getProperty(name))
                .orElseThrow(() -> new AssertionError(name + " is missing"));
    }

    Map<String, String> kafka() {
        return kafka;
    }

    String mqtt() {
        return property("cluster.mqtt");
    }

    /** Runs the script, and says how long it took, seconds. */
    double run(String... arguments) throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(List.of(script.toString()));
        command.addAll(List.of(arguments));
        long start = System.nanoTime();
        Process process = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.INHERIT)
                .start();
        assertThat(process.waitFor(10, TimeUnit.MINUTES)).as("%s ends", command).isTrue();
        assertThat(process.exitValue()).as("%s", command).isZero();
        return (System.nanoTime() - start) / 1e9;
    }

    List<List<String>> rows(String sql) throws SQLException, IOException {
        return TextRows.of(
                DriverManager.getConnection(property("cluster.database"), "rimecast", secret("database-application")),
                sql);
    }
}
