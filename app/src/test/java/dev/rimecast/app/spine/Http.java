package dev.rimecast.app.spine;

import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.People;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.app.server.Server;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import tools.jackson.databind.json.JsonMapper;

/** The little of HTTP that these tests need, as somebody who is signed in. */
public record Http(String address, String cookie) {
    private static final Pattern SET_UP = Pattern.compile("/set-up#([\\w-]+)");
    private static final HttpClient CLIENT =
            HttpClient.newBuilder().connectTimeout(Duration.ofSeconds(5)).build();

    /** Of a server in this process. */
    public static Http of(Server server) {
        return of(server, "Tess", Role.ADMINISTRATOR);
    }

    /** The same as somebody else, who sees every site. */
    static Http of(Server server, String name, Role role) {
        return of(server, name, role, SiteScope.EVERY);
    }

    /** The same as somebody who sees some sites. */
    static Http of(Server server, String name, Role role, SiteScope sites) {
        People people = server.alerts().people();
        Account account = people.accounts().demo(name, role, sites);
        String token = people.signIn().asDemo(account.id(), "127.0.0.1", "test").orElseThrow();
        return at("http://127.0.0.1:" + server.httpPort(), token);
    }

    /** The same session through another door to the same server: a browser has it under the name of that port. */
    Http by(String address) {
        return at(address, cookie.substring(cookie.indexOf('=') + 1));
    }

    private static Http at(String address, String token) {
        return new Http(address, "rimecast-session-" + URI.create(address).getPort() + '=' + token);
    }

    /** Makes the first account by the link that {@code serve} printed. */
    public static Http setUp(int port, String printed) {
        Matcher link = SET_UP.matcher(printed);
        if (!link.find()) {
            throw new IllegalStateException("no set-up link in: " + printed);
        }
        String address = "http://127.0.0.1:" + port;
        HttpResponse<String> answer = send(HttpRequest.newBuilder(URI.create(address + "/api/v1/set-up"))
                .header("Content-Type", "application/json")
                .POST(HttpRequest.BodyPublishers.ofString("{\"link\":\"" + link.group(1)
                        + "\",\"name\":\"Tess\",\"password\":\"eleven snails on a wall\"}"))
                .build());
        if (answer.statusCode() != 200) {
            throw new IllegalStateException(answer.body());
        }
        String cookie = answer.headers().firstValue("Set-Cookie").orElseThrow();
        return new Http(address, cookie.substring(0, cookie.indexOf(';')));
    }

    /** The body, or an empty text where nobody answers. */
    public String get(String path) {
        try {
            return send(HttpRequest.newBuilder(URI.create(address + path))
                            .header("Cookie", cookie)
                            .timeout(Duration.ofSeconds(20))
                            .build())
                    .body();
        } catch (UncheckedIOException e) {
            if (e.getCause() instanceof java.net.ConnectException) {
                return "";
            }
            throw e;
        }
    }

    /** Sends what may be refused. */
    HttpResponse<String> tries(String path, String body) {
        return send(HttpRequest.newBuilder(URI.create(address + path))
                .header("Cookie", cookie)
                .header("Content-Type", body.startsWith("{") ? "application/json" : "text/csv")
                .header("Rimecast-Forgery-Token", forgeryToken())
                .timeout(Duration.ofSeconds(20))
                .POST(HttpRequest.BodyPublishers.ofString(body))
                .build());
    }

    /** Takes away what must be there. */
    void delete(String path) {
        HttpResponse<String> answer = send(HttpRequest.newBuilder(URI.create(address + path))
                .header("Cookie", cookie)
                .header("Rimecast-Forgery-Token", forgeryToken())
                .timeout(Duration.ofSeconds(20))
                .DELETE()
                .build());
        if (answer.statusCode() >= 300) {
            throw new IllegalStateException(path + " answered " + answer.statusCode() + ": " + answer.body());
        }
    }

    /** Sends it with a token in place of a session, or with nothing that says who it is. */
    HttpResponse<String> triesWith(Optional<String> token, String path, String body) {
        HttpRequest.Builder request = HttpRequest.newBuilder(URI.create(address + path))
                .header("Content-Type", body.startsWith("{") ? "application/json" : "text/csv")
                .timeout(Duration.ofSeconds(20))
                .POST(HttpRequest.BodyPublishers.ofString(body));
        token.ifPresent(secret -> request.header("Authorization", "Bearer " + secret));
        return send(request.build());
    }

    /** Sends JSON; the body of what must be a success. */
    String post(String path, String json) {
        HttpResponse<String> answer = tries(path, json);
        if (answer.statusCode() >= 300) {
            throw new IllegalStateException(path + " answered " + answer.statusCode() + ": " + answer.body());
        }
        return answer.body();
    }

    private String forgeryToken() {
        return JsonMapper.shared()
                .readTree(get("/api/v1/session"))
                .path("forgeryToken")
                .asString();
    }

    private static HttpResponse<String> send(HttpRequest request) {
        try {
            return CLIENT.send(request, HttpResponse.BodyHandlers.ofString());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException(e);
        }
    }
}
