package dev.rimecast.app.operate;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.dashboard.DashboardSettings;
import dev.rimecast.dashboard.ManagementSettings;
import dev.rimecast.dashboard.ManagementStage;
import dev.rimecast.dashboard.system.Probes;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.snakeyaml.engine.v2.api.Load;
import org.snakeyaml.engine.v2.api.LoadSettings;

/** The image and the compose files, without an engine: {@code ContainersIT} runs them where there is one. */
class ContainersTest {
    private static final String ONE_OF_EACH = "docker-compose.yml";
    private static final String CLUSTER = "docker-compose.cluster.yml";

    @Test
    void image_javaOptions_goBeforeItsOwn_andArgumentsArePassedOn(@TempDir Path directory) throws Exception {
        assertThat(started(directory, Map.of()))
                .containsExactly(
                        "-XX:MaxRAMPercentage=50",
                        "-XX:+ExitOnOutOfMemoryError",
                        "-jar",
                        "/opt/rimecast/rimecast.jar",
                        "serve",
                        "--config",
                        "a b.yaml");
        assertThat(started(directory, Map.of("RIMECAST_JAVA_OPTS", "-Xmx4500m -XX:MaxRAMPercentage=70")))
                .containsSubsequence(
                        "-XX:MaxRAMPercentage=50", "-Xmx4500m", "-XX:MaxRAMPercentage=70", "-jar", "serve");
    }

    /** What the image's entry point starts, by a Java that only says what it was given. */
    private static List<String> started(Path directory, Map<String, String> environment) throws Exception {
        Path java = directory.resolve("java");
        Files.writeString(java, "#!/bin/sh\nprintf '%s\\n' \"$@\"\n");
        assertThat(java.toFile().setExecutable(true)).isTrue();
        String line = Files.readAllLines(Path.of("../Dockerfile")).stream()
                .filter(each -> each.startsWith("ENTRYPOINT "))
                .findFirst()
                .orElseThrow();
        List<String> command = new ArrayList<>();
        ((List<?>) new Load(LoadSettings.builder().build()).loadFromString(line.substring("ENTRYPOINT ".length())))
                .forEach(word -> command.add(String.valueOf(word)));
        command.addAll(List.of("serve", "--config", "a b.yaml"));
        ProcessBuilder process = new ProcessBuilder(command);
        process.environment().remove("RIMECAST_JAVA_OPTS");
        process.environment().putAll(environment);
        process.environment().merge("PATH", directory.toString(), (path, first) -> first + ":" + path);
        Process running = process.redirectErrorStream(true).start();
        String said = new String(running.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(running.waitFor(20, TimeUnit.SECONDS)).isTrue();
        return said.lines().toList();
    }

    /** They share the host's network, so two of one role with the same port would leave one without health and counters. */
    @Test
    void processes_ofEachFile_areAskedAtPortsOfTheirOwn() throws IOException {
        assertThat(ComposeFiles.processes(ONE_OF_EACH))
                .extracting(ComposeFiles.Instance::port)
                .containsExactlyInAnyOrder("8091", "8092", "8080");
        assertThat(ComposeFiles.processes(CLUSTER))
                .extracting(ComposeFiles.Instance::port)
                .containsExactlyInAnyOrder("8091", "8191", "8092", "8192", "8292", "8081", "8082");
    }

    @Test
    void processes_haveAHeapOfTheirOwn_sinceTheyShareTheHost() throws IOException {
        for (String file : List.of(ONE_OF_EACH, CLUSTER)) {
            assertThat(ComposeFiles.processes(file))
                    .allSatisfy(process ->
                            assertThat(process.environment()).containsEntry("RIMECAST_JAVA_OPTS", "-Xmx512m"));
        }
    }

    /** Else limits of guessing are one for everybody: all have the proxy's address. */
    @Test
    void pagesBehindTheProxy_areToldWhomARequestIsFrom() throws IOException {
        assertThat(ComposeFiles.processes(CLUSTER))
                .filteredOn(process -> process.environment().containsKey("RIMECAST_DASHBOARD_PORT"))
                .hasSize(2)
                .allSatisfy(process -> assertThat(process.environment())
                        .containsEntry("RIMECAST_DASHBOARD_TRUSTED_PROXIES", "127.0.0.1"));
        assertThat(Files.readString(Path.of("../deploy/cluster/haproxy.cfg")))
                .containsPattern("(?m)^ +option forwardfor$");
    }

    @Test
    void everyPort_isScrapedAndAskedByTheScript() throws IOException {
        String scraped = Files.readString(PrometheusFiles.DIRECTORY.resolve("prometheus.yml"));
        String script = Files.readString(Path.of("../deploy/cluster.sh"));

        assertThat(ComposeFiles.processes(CLUSTER)).allSatisfy(process -> {
            assertThat(scraped).contains("\"localhost:" + process.port() + '"');
            assertThat(script).contains(":-" + process.port() + "}").contains(process.name() + ") asked ");
        });
    }

    @Test
    void healthcheck_asksWhetherTheProcessCanGoOn() throws Exception {
        for (String file : List.of(ONE_OF_EACH, CLUSTER)) {
            for (ComposeFiles.Instance process : ComposeFiles.processes(file)) {
                assertThat(process.healthcheck()).as(process.name()).startsWith("CMD", "bash", "-c");
            }
            List<String> check = ComposeFiles.processes(file).get(0).healthcheck();
            try (ManagementStage well = probed(List.of(), List.of("kafka"));
                    ManagementStage ended = probed(List.of("ingest"), List.of("ingest"))) {
                assertThat(exit(check, "RIMECAST_MANAGEMENT_PORT", well.port())).isZero();
                assertThat(exit(check, "RIMECAST_DASHBOARD_PORT", well.port())).isZero();
                assertThat(exit(check, "RIMECAST_MANAGEMENT_PORT", ended.port()))
                        .isNotZero();
            }
        }
    }

    private static ManagementStage probed(List<String> ended, List<String> unready) {
        return ManagementStage.start(
                new ManagementSettings(DashboardSettings.loopback(0, "test"), Optional.empty()),
                new Probes() {
                    @Override
                    public Answer live() {
                        return new Answer(ended);
                    }

                    @Override
                    public Answer ready() {
                        return new Answer(unready);
                    }
                },
                new SimpleMeterRegistry());
    }

    private static int exit(List<String> check, String variable, int port) throws Exception {
        ProcessBuilder process = new ProcessBuilder(check.subList(1, check.size()));
        process.environment().keySet().removeIf(name -> name.startsWith("RIMECAST_"));
        process.environment().put(variable, String.valueOf(port));
        Process running = process.redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                .start();
        assertThat(running.waitFor(20, TimeUnit.SECONDS)).isTrue();
        return running.exitValue();
    }
}
