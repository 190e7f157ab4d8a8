package dev.rimecast.app.spine;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;
import org.testcontainers.DockerClientFactory;

/** Programs that a machine may or may not have. Where CI requires them, a missing one fails instead of skipping. */
public final class OptionalParts {
    private OptionalParts() {}

    static Path mosquittoPub() {
        return require("mosquitto_pub", "RIMECAST_REQUIRE_MOSQUITTO");
    }

    /** The broker; the Debian package puts it where programs of the administrator are. */
    public static Path mosquitto() {
        return require("mosquitto", "RIMECAST_REQUIRE_MOSQUITTO");
    }

    public static Path python() {
        return require("python3", "RIMECAST_REQUIRE_PYTHON");
    }

    public static Path promtool() {
        return require("promtool", "RIMECAST_REQUIRE_PROMTOOL");
    }

    public static Path chromium() {
        return require("chromium", "RIMECAST_REQUIRE_BROWSER");
    }

    public static Path chromedriver() {
        return require("chromedriver", "RIMECAST_REQUIRE_BROWSER");
    }

    /** A container engine. */
    public static void containers() {
        String variable = "RIMECAST_REQUIRE_DOCKER";
        boolean isThere = DockerClientFactory.instance().isDockerAvailable();
        if (!isThere && "true".equals(System.getenv(variable))) {
            throw new AssertionError("no container engine answers, and " + variable + "=true requires one");
        }
        String reason = "no container engine answers (bash .ci/cluster starts one)";
        if (!isThere) {
            System.out.println("skipped: " + reason);
        }
        Assumptions.assumeTrue(isThere, reason);
    }

    private static Path require(String program, String variable) {
        Optional<Path> found = Stream.concat(
                        Stream.of(System.getenv().getOrDefault("PATH", "").split(":")), Stream.of("/usr/sbin"))
                .map(directory -> Path.of(directory, program))
                .filter(Files::isExecutable)
                .findFirst();
        if (found.isEmpty() && "true".equals(System.getenv(variable))) {
            throw new AssertionError(program + " is missing, and " + variable + "=true requires it");
        }
        if (found.isEmpty()) {
            System.out.println("skipped: " + program + " is not installed");
        }
        Assumptions.assumeTrue(found.isPresent(), program + " is not installed");
        return found.orElseThrow();
    }
}
