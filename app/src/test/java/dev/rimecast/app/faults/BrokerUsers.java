package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/** Users of the broker in containers, as {@code deploy/broker-gateway.sh} makes them. */
final class BrokerUsers {
    private BrokerUsers() {}

    /** Every gateway that {@link LoadGenerator} plays. */
    static List<String> ofTheLoad() {
        return Stream.concat(
                        ToyFleet.SITES.stream().map(ToyFleet::gateway),
                        LiveSites.ALL.stream().map(LiveSites::gateway))
                .toList();
    }

    /**
     * Makes users.
     *
     * @param secrets the directory of {@code deploy/secrets.sh}
     * @param keys where each secret goes, as {@code NAME.secret}
     */
    static void make(Path script, Path secrets, Path keys, List<String> gateways)
            throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(List.of("bash", script.toString()));
        command.addAll(gateways);
        ProcessBuilder builder = new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT);
        builder.environment().put("SECRETS_DIRECTORY", secrets.toString());
        Process process = builder.start();
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(process.waitFor(1, TimeUnit.MINUTES)).as("%s ends", script).isTrue();
        assertThat(process.exitValue()).as("%s", script).isZero();
        Files.createDirectories(keys);
        for (String line : said.lines().toList()) {
            String[] user = line.split(" ", -1);
            Files.writeString(keys.resolve(user[0] + ".secret"), user[1]);
        }
        assertThat(gateways)
                .allSatisfy(
                        gateway -> assertThat(keys.resolve(gateway + ".secret")).exists());
    }
}
