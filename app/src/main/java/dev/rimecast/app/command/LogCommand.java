package dev.rimecast.app.command;

import dev.rimecast.analytics.stream.LogEntry;
import dev.rimecast.analytics.stream.SiteLogReader;
import dev.rimecast.telemetry.log.SiteRecord;
import java.io.PrintWriter;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Prints a site's log as it is in Kafka. */
@Command(
        name = "log",
        mixinStandardHelpOptions = true,
        description = {
            "Prints the records of a site's log, oldest first, a line each: partition, offset, time of writing, site and"
                    + " record; ticks have no site.",
            "Reads the Kafka of a running server; an embedded one tells its address in data/kafka/ports."
        },
        footer = ExitCode.FOOTER)
final class LogCommand implements Callable<Integer> {
    @Option(
            names = "--bootstrap-servers",
            required = true,
            paramLabel = "HOST:PORT",
            description = "Where Kafka is, e.g. 127.0.0.1:9092.")
    String bootstrapServers = "";

    @Option(names = "--site", paramLabel = "SITE", description = "Only this site's (default: all).")
    Optional<String> site = Optional.empty();

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    @Override
    public Integer call() {
        PrintWriter out = Output.of(spec);
        Map<String, String> kafka = new HashMap<>(Map.of("bootstrap.servers", bootstrapServers));
        SiteLogReader reader = new SiteLogReader(kafka);
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
