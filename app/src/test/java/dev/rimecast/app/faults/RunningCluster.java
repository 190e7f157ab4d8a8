package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;

/** The cluster that deploy/cluster.sh has brought up. */
final class RunningCluster {
    private final Path script = Path.of(property("cluster.script"));
    private final KafkaKeys keys;
    private final Map<String, String> kafka;

    private RunningCluster() throws IOException {
        keys = new KafkaKeys(script.resolveSibling("secrets"));
        kafka = keys.client(property("cluster.kafka"));
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

    KafkaKeys keys() {
        return keys;
    }

    /** Ports of the Kafkas where clients are let in. */
    List<Integer> kafkaPorts() {
        return Stream.of(property("cluster.kafka").split(","))
                .map(each -> Integer.valueOf(each.substring(each.lastIndexOf(':') + 1)))
                .toList();
    }

    /** The pages' address, behind the proxy. */
    int pagesPort() {
        return Integer.parseInt(property("cluster.pages"));
    }

    String mqtt() {
        return property("cluster.mqtt");
    }

    /** Lets the gateways of the load in at the broker; their secrets go into {@code directory}. */
    Path letIn(Path directory) throws IOException, InterruptedException {
        BrokerUsers.make(
                script.resolveSibling("broker-gateway.sh"),
                script.resolveSibling("secrets"),
                directory,
                BrokerUsers.ofTheLoad());
        run("restart", "mosquitto");
        return directory;
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

    /** What the script prints. */
    String says(String... arguments) throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(List.of(script.toString()));
        command.addAll(List.of(arguments));
        Process process = new ProcessBuilder(command)
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(process.waitFor()).as("%s: %s", command, said).isZero();
        return said;
    }

    List<List<String>> rows(String sql) throws SQLException, IOException {
        return TextRows.of(
                DriverManager.getConnection(
                        property("cluster.database"), "rimecast", keys.text("database-application")),
                sql);
    }
}
