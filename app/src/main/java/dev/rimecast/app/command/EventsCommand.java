package dev.rimecast.app.command;

import java.io.IOException;
import java.io.PrintWriter;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Sends {@code events.csv} to a running server. */
@Command(
        name = "events",
        mixinStandardHelpOptions = true,
        description = {
            "Sends calls, visits, cleanings and whatever else no probe can see to a running server.",
            "FILE is CSV with the columns time,event and, where they are known, machine,site,detail,by,job. Good rows go"
                    + " in; each other one is named with its line. The same file again adds nothing.",
            "Needs an API token whose role may report (page \"API tokens\"), in the environment as "
                    + EventsCommand.TOKEN + " or in a file."
        },
        footer = ExitCode.FOOTER)
final class EventsCommand implements Callable<Integer> {
    static final String TOKEN = "RIMECAST_TOKEN";

    private static final Duration CONNECT = Duration.ofSeconds(10);
    private static final Duration ANSWER = Duration.ofMinutes(5);

    @Parameters(paramLabel = "FILE", description = "events.csv")
    Path file = Path.of("");

    @Option(
            names = "--server",
            paramLabel = "URL",
            defaultValue = "http://localhost:8080",
            description = "Where the pages are (default: ${DEFAULT-VALUE}).")
    URI server = URI.create("http://localhost:8080");

    @Option(names = "--token-file", paramLabel = "FILE", description = "A file that holds nothing but the API token.")
    Optional<Path> tokenFile = Optional.empty();

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    private final Map<String, String> environment;

    EventsCommand() {
        this(System.getenv());
    }

    EventsCommand(Map<String, String> environment) {
        this.environment = environment;
    }

    @Override
    public Integer call() throws IOException, InterruptedException {
        if (!Files.isRegularFile(file)) {
            throw new NoSuchFileException(file.toString());
        }
        HttpRequest request = HttpRequest.newBuilder(endpoint())
                .timeout(ANSWER)
                .header("Authorization", "Bearer " + token())
                .header("Content-Type", "text/csv")
                .POST(BodyPublishers.ofFile(file))
                .build();
        HttpClient client = HttpClient.newBuilder().connectTimeout(CONNECT).build();
        HttpResponse<String> answer = client.send(request, BodyHandlers.ofString());
        JsonNode body = json(answer);
        if (answer.statusCode() != 200) {
            throw new InputException(server + " answered " + answer.statusCode() + ": "
                    + body.path("detail").asString("").replace("events.csv", file.toString()));
        }
        return tell(body);
    }

    private URI endpoint() {
        String scheme = Optional.ofNullable(server.getScheme()).orElse("");
        if (!scheme.equals("http") && !scheme.equals("https")) {
            throw new InputException("--server must be an address such as https://ice.firm.example, was " + server);
        }
        return URI.create(server.toString().replaceAll("/+$", "") + "/api/v1/events/import");
    }

    private String token() throws IOException {
        String token = tokenFile.isPresent()
                ? Files.readString(tokenFile.get()).strip()
                : environment.getOrDefault(TOKEN, "").strip();
        if (token.isEmpty()) {
            throw new InputException("no API token: set " + TOKEN + ", or give --token-file FILE");
        }
        return token;
    }

    private static JsonNode json(HttpResponse<String> answer) {
        try {
            return JsonMapper.shared().readTree(answer.body());
        } catch (JacksonException e) {
            throw new InputException(
                    answer.uri() + " is no Rimecast: it answered " + answer.statusCode() + " with something else");
        }
    }

    private int tell(JsonNode summary) {
        PrintWriter out = Output.of(spec);
        for (JsonNode problem : summary.path("problems")) {
            long line = problem.path("line").asLong();
            String column = problem.path("column").asString("");
            out.println(file + (line > 0 ? ":" + line : "") + ": " + (column.isEmpty() ? "" : column + ": ")
                    + problem.path("problem").asString(""));
        }
        out.println(
                summary.path("rows").asInt() + " rows: " + summary.path("added").asInt() + " added, "
                        + summary.path("known").asInt() + " known already, "
                        + summary.path("refused").asInt() + " not taken");
        out.flush();
        return summary.path("problems").isEmpty() ? ExitCode.OK : ExitCode.WRONG_INPUT;
    }
}
