package dev.rimecast.app.command;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;
import tools.jackson.databind.JsonNode;

/** Sends {@code events.csv} to a running server. */
@Command(
        name = "events",
        mixinStandardHelpOptions = true,
        description = {
            "Sends calls, visits, cleanings and whatever else no probe can see to a running server.",
            "FILE is CSV with the columns time,event and, where they are known, machine,site,detail,by,job. Good rows go"
                    + " in; each other one is named with its line. The same file again adds nothing.",
            "Needs an API token whose role may report (page \"API tokens\"), in the environment as "
                    + ServerOptions.TOKEN + " or in a file."
        },
        footer = ExitCode.FOOTER)
final class EventsCommand implements Callable<Integer> {
    @Parameters(paramLabel = "FILE", description = "events.csv")
    Path file = Path.of("");

    @Mixin
    ServerOptions server;

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    EventsCommand() {
        this(new ServerOptions());
    }

    EventsCommand(ServerOptions server) {
        this.server = server;
    }

    @Override
    public Integer call() throws IOException, InterruptedException {
        JsonNode summary = CsvUpload.send(server, file, "/api/v1/events/import", "events.csv");
        PrintWriter out = Output.of(spec);
        int exit = CsvUpload.tellProblems(summary, file, out);
        out.println(
                summary.path("rows").asInt() + " rows: " + summary.path("added").asInt() + " added, "
                        + summary.path("known").asInt() + " known already, "
                        + summary.path("refused").asInt() + " not taken");
        out.flush();
        return exit;
    }
}
