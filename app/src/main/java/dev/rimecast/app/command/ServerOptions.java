package dev.rimecast.app.command;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublisher;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import picocli.CommandLine.Option;
import picocli.CommandLine.ScopeType;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** A running server, and the token by which a command asks it. */
final class ServerOptions {
    /** In the environment. */
    static final String TOKEN = "RIMECAST_TOKEN";

    private static final Duration CONNECT = Duration.ofSeconds(10);
    private static final Duration ANSWER = Duration.ofMinutes(5);

    @Option(
            names = "--server",
            scope = ScopeType.INHERIT,
            paramLabel = "URL",
            defaultValue = "http://localhost:8080",
            description = "Where the pages are (default: ${DEFAULT-VALUE}).")
    URI server = URI.create("http://localhost:8080");

    @Option(
            names = "--token-file",
            scope = ScopeType.INHERIT,
            paramLabel = "FILE",
            description = "A file that holds nothing but the API token.")
    Optional<Path> tokenFile = Optional.empty();

    private final Map<String, String> environment;

    ServerOptions() {
        this(System.getenv());
    }

    ServerOptions(Map<String, String> environment) {
        this.environment = environment;
    }

    /** An answer in JSON. */
    record Answer(int status, JsonNode body) {
        /** What was wrong, in the words of the server. */
        String detail() {
            return body.path("detail").asString("");
        }
    }

    Answer get(String path) throws IOException, InterruptedException {
        return send(path, "application/json", "GET", BodyPublishers.noBody());
    }

    Answer post(String path, String contentType, BodyPublisher body) throws IOException, InterruptedException {
        return send(path, contentType, "POST", body);
    }

    /** Fetches a file into {@code file}, which is overwritten; the answer has a body where it was refused. */
    Answer fetch(String path, Path file) throws IOException, InterruptedException {
        HttpResponse<Path> answer = HttpClient.newBuilder()
                .connectTimeout(CONNECT)
                .build()
                .send(
                        request(path, "application/json", "POST", BodyPublishers.ofString("{}")),
                        BodyHandlers.ofFile(file));
        if (answer.statusCode() == 200) {
            return new Answer(200, JsonMapper.shared().createObjectNode());
        }
        String text = Files.readString(file);
        Files.delete(file);
        return answer(answer.statusCode(), answer.uri(), text);
    }

    private Answer send(String path, String contentType, String method, BodyPublisher body)
            throws IOException, InterruptedException {
        HttpClient client = HttpClient.newBuilder().connectTimeout(CONNECT).build();
        HttpResponse<String> answer = client.send(request(path, contentType, method, body), BodyHandlers.ofString());
        return answer(answer.statusCode(), answer.uri(), answer.body());
    }

    private HttpRequest request(String path, String contentType, String method, BodyPublisher body) throws IOException {
        return HttpRequest.newBuilder(endpoint(path))
                .timeout(ANSWER)
                .header("Authorization", "Bearer " + token())
                .header("Content-Type", contentType)
                .method(method, body)
                .build();
    }

    private static Answer answer(int status, URI from, String text) {
        try {
            return new Answer(status, JsonMapper.shared().readTree(text));
        } catch (JacksonException e) {
            throw new InputException(from + " is no Rimecast: it answered " + status + " with something else");
        }
    }

    private URI endpoint(String path) {
        String scheme = Optional.ofNullable(server.getScheme()).orElse("");
        if (!scheme.equals("http") && !scheme.equals("https")) {
            throw new InputException("--server must be an address such as https://ice.firm.example, was " + server);
        }
        return URI.create(server.toString().replaceAll("/+$", "") + path);
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
}
