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

/** Sends {@code weather.csv} to a running server. */
@Command(
        name = "weather",
        mixinStandardHelpOptions = true,
        description = {
            "Sends the weather that is expected at the sites to a running server: the dates in its forecasts go by it.",
            "FILE is CSV with the columns site,date,max_c: the date at the site, and the warmest out of doors on it in °C."
                    + " Send each day's outlook as it comes; what is sent later of a day goes before what was sent earlier."
                    + " Past days help, too: they show how a room follows the weather.",
            "Needs an API token whose role may report (page \"API tokens\"), in the environment as "
                    + ServerOptions.TOKEN + " or in a file."
        },
        footer = ExitCode.FOOTER)
final class WeatherCommand implements Callable<Integer> {
    @Parameters(paramLabel = "FILE", description = "weather.csv")
    Path file = Path.of("");

    @Mixin
    ServerOptions server;

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    WeatherCommand() {
        this(new ServerOptions());
    }

    WeatherCommand(ServerOptions server) {
        this.server = server;
    }

    @Override
    public Integer call() throws IOException, InterruptedException {
        JsonNode summary = CsvUpload.send(server, file, "/api/v1/weather", "weather.csv");
        PrintWriter out = Output.of(spec);
        int exit = CsvUpload.tellProblems(summary, file, out);
        int rows = summary.path("rows").asInt();
        int sites = summary.path("sites").asInt();
        out.println(rows + (rows == 1 ? " row: " : " rows: ")
                + summary.path("taken").asInt()
                + " taken for " + sites + (sites == 1 ? " site, " : " sites, ")
                + summary.path("refused").asInt() + " not taken");
        out.flush();
        return exit;
    }
}
