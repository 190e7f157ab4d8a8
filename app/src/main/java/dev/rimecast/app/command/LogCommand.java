package dev.rimecast.app.command;

import dev.rimecast.analytics.stream.LogEntry;
import dev.rimecast.analytics.stream.SiteLogReader;
import dev.rimecast.app.config.Config;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.telemetry.log.SiteRecord;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Prints a site's log as it is in Kafka. */
@Command(
        name = "log",
        mixinStandardHelpOptions = true,
        description = {
            "Prints the records of a site's log, oldest first, a line each: partition, offset, time of writing, site and"
                    + " record; ticks have no site.",
            "Reads the Kafka of a running server, by the account that runs it."
        },
        footer = ExitCode.FOOTER)
final class LogCommand implements Callable<Integer> {
    @ArgGroup(multiplicity = "1")
    Source source = new Source();

    /** One of the three. */
    static final class Source {
        @Option(
                names = "--data",
                paramLabel = "DIR",
                description = "The data directory of a server with a Kafka of its own: address and secret are in it.")
        Optional<Path> data = Optional.empty();

        @Option(
                names = "--config",
                paramLabel = "FILE",
                description = "The configuration of a server with an outside Kafka: its address and keys are used.")
        Optional<Path> config = Optional.empty();

        @Option(
                names = "--bootstrap-servers",
                paramLabel = "HOST:PORT",
                description = "An outside Kafka that asks for nothing, e.g. 127.0.0.1:9092.")
        Optional<String> bootstrapServers = Optional.empty();

        Map<String, String> kafka() throws IOException {
            if (bootstrapServers.isPresent()) {
                return Map.of("bootstrap.servers", bootstrapServers.get());
            }
            if (config.isPresent()) {
                ServerSettings settings = Config.load(config.get(), System.getenv());
                return settings.kafka()
                        .orElseGet(() -> EmbeddedKafka.clientOf(settings.data().resolve("kafka")));
            }
            return EmbeddedKafka.clientOf(data.orElseThrow().resolve("kafka"));
        }
    }

    @Option(names = "--site", paramLabel = "SITE", description = "Only this site's (default: all).")
    Optional<String> site = Optional.empty();

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException {
        PrintWriter out = Output.of(spec);
        SiteLogReader reader = new SiteLogReader(source.kafka());
        if (site.isPresent()) {
            reader.forEach(site.get(), entry -> print(out, entry));
        } else {
            reader.forEach(entry -> print(out, entry));
        }
        out.flush();
        return ExitCode.OK;
    }

    private static void print(PrintWriter out, LogEntry entry) {
        out.println(entry.partition() + "\t" + entry.offset() + "\t" + entry.appendedAt() + "\t"
                + entry.site().orElse("-") + "\t" + inWords(entry.entry()));
    }

    private static String inWords(SiteRecord entry) {
        if (entry instanceof SiteRecord.Pack pack) {
            return "pack from " + pack.gateway()
                    + pack.number().map(n -> " " + n.boot() + "/" + n.seq()).orElse("") + ", received "
                    + pack.receivedAt() + ", " + pack.readings().size() + " readings, " + pack.rejected() + " rejected";
        }
        if (entry instanceof SiteRecord.PolicyActivated policy) {
            return "policy " + policy.version() + " at " + policy.at();
        }
        return entry.toString();
    }
}
