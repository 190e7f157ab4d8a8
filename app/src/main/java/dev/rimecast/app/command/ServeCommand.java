package dev.rimecast.app.command;

import dev.rimecast.app.config.Config;
import dev.rimecast.app.server.Role;
import dev.rimecast.app.server.Server;
import dev.rimecast.app.server.ServerSettings;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Runs the product for a fleet of one's own. */
@Command(
        name = "serve",
        mixinStandardHelpOptions = true,
        description = {
            "Starts the product: MQTT endpoint, analytics, alerts and pages, with Kafka and PostgreSQL of its own unless"
                    + " the configuration names others. Ctrl-C stops it.",
            "Needs a register to know machines: fleet.register in the configuration. Readings of machines in no register"
                    + " are kept and wait.",
            "Everything listens on the loopback address only."
        },
        footer = ExitCode.FOOTER)
final class ServeCommand implements Callable<Integer> {
    @Option(names = "--config", paramLabel = "FILE", description = "Configuration (YAML). Without it: all defaults.")
    Optional<Path> config = Optional.empty();

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException, InterruptedException {
        PrintWriter out = Output.of(spec);
        ServerSettings settings =
                config.isPresent() ? Config.load(config.get(), System.getenv()) : Config.standard(System.getenv());
        UntilStopped untilStopped = new UntilStopped();
        Server server = Server.start(settings, InstantSource.system(), Optional::empty, untilStopped::failed);
        untilStopped.closing(server);
        if (settings.roles().contains(Role.INGEST)) {
            if (settings.mqtt().hasEndpoint()) {
                out.println("Gateways of this machine connect to "
                        + settings.mqtt().listen().host() + ":" + server.mqttPort() + ", without credentials");
                settings.mqtt()
                        .secure()
                        .ifPresentOrElse(
                                there -> out.println("Other gateways connect to port "
                                        + server.mqttPorts().get(1)
                                        + " over TLS, each with its key: ./rimecast gateway add"),
                                () -> out.println(
                                        "Other machines can't: that takes a certificate, see mqtt-tls in docs/config.yaml"));
            }
            settings.mqtt()
                    .broker()
                    .ifPresent(broker -> out.println("Packs are taken from the broker " + broker.url()));
        }
        if (settings.roles().contains(Role.DASHBOARD)) {
            String address = address(settings, server.httpPort());
            out.println("Rimecast is at " + address);
            server.alerts().people().links().setUp().ifPresent(link -> {
                out.println("There is no administrator yet. This link makes the first one, once, within an hour:");
                out.println("  " + address + "/set-up#" + link);
            });
        }
        out.println("Ctrl-C stops it.");
        out.flush();
        return untilStopped.await();
    }

    /** Where a browser finds the pages; behind every address of this machine, by its own name. */
    private static String address(ServerSettings settings, int port) {
        if (settings.pagesTls().isEmpty()) {
            return "http://localhost:" + port;
        }
        String host = settings.http().host();
        boolean isEvery = host.equals("0.0.0.0") || host.equals("::");
        return "https://" + (isEvery ? "localhost" : host) + ':' + port;
    }
}
