package dev.rimecast.dashboard;

import static dev.rimecast.dashboard.Operations.text;

import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpResponse;
import java.security.GeneralSecurityException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import tools.jackson.databind.JsonNode;

/**
 * What people do to come in and go out: an administrator sets the server up; Kim is let in, adds a second factor and loses it,
 * makes an API token, and leaves.
 */
final class PeopleOperations {
    private static final String API = "/api/v1";
    private static final String PHRASE = "seven herons at the quay";
    private static final String NEXT_PHRASE = "nine gulls on a wet roof";

    private final Operations asked;
    private final FakeServer server;
    private final Web nobody;

    PeopleOperations(Operations asked, FakeServer server) {
        this.asked = asked;
        this.server = server;
        nobody = new Web(server, List.of());
    }

    private Web after(HttpResponse<String> signIn) {
        String cookie = signIn.headers().firstValue("Set-Cookie").orElseThrow();
        return nobody.as(List.of(
                "Cookie",
                cookie.substring(0, cookie.indexOf(';')),
                "Rimecast-Forgery-Token",
                text(signIn, "forgeryToken")));
    }

    void all() throws GeneralSecurityException {
        people();
        demonstration();
    }

    private void people() throws GeneralSecurityException {
        asked.put("word", PHRASE);
        String setUp = server.people().links().setUp().orElseThrow();
        asked.put("link", setUp);
        Web ada = after(
                asked.post(nobody, API + "/set-up", "{\"link\":\"{link}\",\"name\":\"Ada\",\"password\":\"{word}\"}"));
        asked.get(ada, API + "/session");
        asked.get(ada, API + "/roles");

        HttpResponse<String> made =
                asked.post(ada, API + "/accounts", "{\"name\":\"Kim\",\"role\":\"operator\",\"sites\":[\"site-2\"]}");
        asked.put("account", text(made, "account", "id"));
        asked.get(ada, API + "/accounts");
        asked.put("link", text(made, "link").replaceFirst(".*#", ""));
        Web kim = after(asked.post(nobody, API + "/password", "{\"link\":\"{link}\",\"password\":\"{word}\"}"));
        secondFactor(kim);
        asked.post(ada, API + "/accounts/{account}/second-factor/remove", "{}");
        asked.post(ada, API + "/accounts/{account}", "{\"role\":\"engineer\",\"sites\":[\"site-2\"]}");
        asked.post(ada, API + "/accounts/{account}/link", "{}");
        ownSessionsAndTokens();
    }

    private void secondFactor(Web kim) throws GeneralSecurityException {
        String factor = API + "/account/second-factor";
        String both = "{\"current\":\"{word}\",\"code\":\"{code}\"}";
        String secret = text(asked.post(kim, factor, "{\"current\":\"{word}\"}"), "secret");
        asked.put("code", Authenticator.code(secret));
        JsonNode codes = Web.parse(asked.post(kim, factor + "/confirm", "{\"code\":\"{code}\"}"));
        asked.get(kim, factor);
        asked.put("code", codes.path("recoveryCodes").get(0).asString());
        JsonNode renewed = Web.parse(asked.post(kim, factor + "/recovery-codes", both));
        asked.put("code", renewed.path("recoveryCodes").get(0).asString());
        asked.post(kim, factor + "/remove", both);
        String again = text(asked.post(kim, factor, "{\"current\":\"{word}\"}"), "secret");
        asked.put("code", Authenticator.code(again));
        asked.post(kim, factor + "/confirm", "{\"code\":\"{code}\"}");
    }

    private void ownSessionsAndTokens() {
        String signIn = "{\"name\":\"Kim\",\"password\":\"{word}\"}";
        Web kim = after(asked.post(nobody, API + "/session", signIn));
        asked.post(nobody, API + "/session", signIn);
        JsonNode sessions = Web.parse(asked.get(kim, API + "/account/sessions"));
        asked.put(
                "session",
                sessions.valueStream()
                        .filter(each -> !each.path("current").asBoolean())
                        .findFirst()
                        .orElseThrow()
                        .path("id")
                        .asString());
        asked.delete(kim, API + "/account/sessions/{session}");

        asked.put("tomorrow", Instant.now().plus(Duration.ofDays(1)).toString());
        asked.put(
                "token",
                text(
                        asked.post(
                                kim,
                                API + "/tokens",
                                "{\"name\":\"n\",\"role\":\"viewer\",\"sites\":[\"site-2\"],\"endsAt\":\"{tomorrow}\"}"),
                        "id"));
        asked.get(kim, API + "/tokens");
        asked.delete(kim, API + "/tokens/{token}");

        asked.post(kim, API + "/account/password", "{\"current\":\"{word}\",\"next\":\"" + NEXT_PHRASE + "\"}");
        asked.put("word", NEXT_PHRASE);
        asked.delete(after(asked.post(nobody, API + "/session", signIn)), API + "/session");
    }

    private void demonstration() {
        try (FakeServer demo = FakeServer.start(FakeFleets::small)) {
            Web visitor = new Web(demo, List.of());
            JsonNode accounts = Web.parse(asked.get(visitor, API + "/demo/accounts"));
            asked.put("account", accounts.get(0).path("id").asString());
            asked.post(visitor, API + "/demo/session", "{\"account\":\"{account}\"}");
        }
    }
}
