package dev.rimecast.dashboard;

import dev.rimecast.dashboard.fake.FakeServer;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Asks a server over real HTTP. */
record Web(FakeServer server, HttpClient client) {
    private static final JsonMapper JSON = JsonMapper.builder().build();

    Web(FakeServer server) {
        this(
                server,
                HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build());
    }

    HttpResponse<String> get(String path, String... headers) {
        return send(request(path, headers).GET().build());
    }

    HttpResponse<byte[]> bytes(String path, String... headers) {
        try {
            return client.send(request(path, headers).GET().build(), BodyHandlers.ofByteArray());
        } catch (IOException | InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    HttpResponse<String> post(String path, String json, String... headers) {
        return send(request(path, headers)
                .header("Content-Type", "application/json")
                .POST(BodyPublishers.ofString(json))
                .build());
    }

    JsonNode json(String path) {
        return JSON.readTree(get(path).body());
    }

    static JsonNode parse(HttpResponse<String> response) {
        return JSON.readTree(response.body());
    }

    HttpResponse<String> send(HttpRequest request) {
        try {
            return client.send(request, BodyHandlers.ofString());
        } catch (IOException | InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    private HttpRequest.Builder request(String path, String... headers) {
        HttpRequest.Builder builder = HttpRequest.newBuilder(URI.create(server.url(path)));
        return headers.length == 0 ? builder : builder.headers(headers);
    }
}
