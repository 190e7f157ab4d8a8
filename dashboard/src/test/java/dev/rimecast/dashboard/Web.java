package dev.rimecast.dashboard;

import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeServer;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.zip.GZIPInputStream;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Asks a server over real HTTP, as somebody or as nobody; each answer is held against its description ({@link Contract}). */
record Web(FakeServer server, HttpClient client, List<String> identity) {
    private static final JsonMapper JSON = JsonMapper.builder().build();

    /** As an administrator who sees every site. */
    Web(FakeServer server) {
        this(server, server.headers(Role.ADMINISTRATOR));
    }

    Web(FakeServer server, List<String> identity) {
        this(
                server,
                HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build(),
                identity);
    }

    /** Somebody else at the same server. */
    Web as(List<String> headers) {
        return new Web(server, client, headers);
    }

    Web as(Account account) {
        return as(server.headers(account));
    }

    /** An operator of every site. */
    Web as(String name) {
        return as(server.account(name, Role.OPERATOR, SiteScope.EVERY));
    }

    Web nobody() {
        return as(List.of());
    }

    HttpResponse<String> get(String path, String... headers) {
        return send(request(path, headers).GET().build());
    }

    HttpResponse<byte[]> bytes(String path, String... headers) {
        try {
            HttpResponse<byte[]> answer =
                    client.send(request(path, headers).GET().build(), BodyHandlers.ofByteArray());
            Contract.hold(answer, text(answer));
            return answer;
        } catch (IOException | InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    private static String text(HttpResponse<byte[]> answer) throws IOException {
        boolean packed = answer.headers().firstValue("Content-Encoding").isPresent();
        try (InputStream body = new ByteArrayInputStream(answer.body());
                InputStream unpacked = packed ? new GZIPInputStream(body) : body) {
            return new String(unpacked.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    HttpResponse<String> post(String path, String json, String... headers) {
        return send(request(path, headers)
                .header("Content-Type", "application/json")
                .POST(BodyPublishers.ofString(json))
                .build());
    }

    HttpResponse<String> put(String path, String type, byte[] body) {
        return send(request(path)
                .header("Content-Type", type)
                .PUT(BodyPublishers.ofByteArray(body))
                .build());
    }

    JsonNode json(String path) {
        return JSON.readTree(get(path).body());
    }

    static JsonNode parse(HttpResponse<String> response) {
        return JSON.readTree(response.body());
    }

    static JsonNode parse(String body) {
        return JSON.readTree(body);
    }

    HttpResponse<String> send(HttpRequest request) {
        try {
            HttpResponse<String> answer = client.send(request, BodyHandlers.ofString());
            Contract.hold(answer, answer.body());
            return answer;
        } catch (IOException | InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    HttpRequest.Builder request(String path, String... headers) {
        HttpRequest.Builder builder = HttpRequest.newBuilder(URI.create(server.url(path)));
        for (int i = 0; i < identity.size(); i += 2) {
            builder.header(identity.get(i), identity.get(i + 1));
        }
        return headers.length == 0 ? builder : builder.headers(headers);
    }
}
