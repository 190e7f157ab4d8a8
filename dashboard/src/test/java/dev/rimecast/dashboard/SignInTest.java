package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.Socket;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Coming in and going out over real HTTP. */
class SignInTest {
    private static final String PHRASE = "seven herons at the quay";

    private FakeServer server;
    private Web nobody;

    @BeforeEach
    void start() {
        server = FakeServer.guarded(FakeFleets::small);
        nobody = new Web(server, List.of());
    }

    @AfterEach
    void stop() {
        server.close();
    }

    private HttpResponse<String> setUp() {
        String link = server.people().links().setUp().orElseThrow();
        return nobody.post(
                "/api/v1/set-up", "{\"link\":\"" + link + "\",\"name\":\"Ada\",\"password\":\"" + PHRASE + "\"}");
    }

    private HttpResponse<String> signIn(Web web, String password) {
        return web.post("/api/v1/session", "{\"name\":\"ada\",\"password\":\"" + password + "\"}");
    }

    /** What a browser sends after this answer. */
    private Web after(HttpResponse<String> answer) {
        String cookie = cookies(answer).stream()
                .filter(each -> each.startsWith("rimecast-session"))
                .findFirst()
                .orElseThrow();
        return nobody.as(List.of(
                "Cookie",
                cookie.substring(0, cookie.indexOf(';')),
                "Rimecast-Forgery-Token",
                Web.parse(answer).path("forgeryToken").stringValue()));
    }

    private static List<String> cookies(HttpResponse<String> answer) {
        return answer.headers().allValues("Set-Cookie");
    }

    @Test
    void secondFactor_addedAndUsed_overHttp() throws Exception {
        Web ada = after(setUp());
        assertThat(ada.post("/api/v1/account/second-factor", "{\"current\":\"wrong\"}")
                        .statusCode())
                .isEqualTo(401);
        HttpResponse<String> proposed = ada.post("/api/v1/account/second-factor", "{\"current\":\"" + PHRASE + "\"}");
        assertThat(proposed.statusCode()).isEqualTo(201);
        assertThat(proposed.headers().firstValue("Cache-Control")).contains("no-store");
        assertThat(OpenApiDocument.read()
                        .errors("/api/v1/account/second-factor", "post", "201", "application~1json", proposed.body()))
                .isEmpty();
        String secret = Web.parse(proposed).path("secret").stringValue();
        String first = Authenticator.code(secret);
        HttpResponse<String> confirmed =
                ada.post("/api/v1/account/second-factor/confirm", "{\"code\":\"" + first + "\"}");
        assertThat(confirmed.statusCode()).as(confirmed.body()).isEqualTo(200);
        assertThat(confirmed.headers().firstValue("Cache-Control")).contains("no-store");
        List<String> recovery = Web.parse(confirmed)
                .path("recoveryCodes")
                .valueStream()
                .map(each -> each.stringValue())
                .toList();
        assertThat(recovery).hasSize(10);
        assertThat(ada.json("/api/v1/account/second-factor").path("codesLeft").asInt())
                .isEqualTo(10);
        assertThat(ada.json("/api/v1/session")
                        .path("account")
                        .path("secondFactor")
                        .asBoolean())
                .isTrue();

        HttpResponse<String> needed = signIn(nobody, PHRASE);
        assertThat(needed.statusCode()).isEqualTo(401);
        assertThat(needed.body()).contains("code-needed");
        assertThat(cookies(needed)).isEmpty();
        for (String wrong : List.of("000000000", first)) {
            HttpResponse<String> answer = nobody.post(
                    "/api/v1/session", "{\"name\":\"ada\",\"password\":\"" + PHRASE + "\",\"code\":\"" + wrong + "\"}");
            assertThat(answer.statusCode()).as("wrong, or used to confirm").isEqualTo(401);
            assertThat(answer.body()).contains("wrong-code");
        }
        HttpResponse<String> in = nobody.post(
                "/api/v1/session",
                "{\"name\":\"ada\",\"password\":\"" + PHRASE + "\",\"code\":\"" + recovery.get(0) + "\"}");
        assertThat(in.statusCode()).isEqualTo(200);
        assertThat(ada.json("/api/v1/account/second-factor").path("codesLeft").asInt())
                .isEqualTo(9);
        assertThat(ada.post(
                                "/api/v1/account/second-factor/remove",
                                "{\"current\":\"" + PHRASE + "\",\"code\":\"" + recovery.get(1) + "\"}")
                        .statusCode())
                .isEqualTo(204);
        assertThat(signIn(nobody, PHRASE).statusCode()).isEqualTo(200);
    }

    /** Two instances behind a proxy listen on ports of their own; the browser knows only the proxy's. */
    @Test
    void session_behindAProxy_isNamedByThePortThatTheBrowserCameTo() throws Exception {
        String link = server.people().links().setUp().orElseThrow();
        String body = "{\"link\":\"" + link + "\",\"name\":\"Ada\",\"password\":\"" + PHRASE + "\"}";
        try (Socket socket = new Socket("127.0.0.1", server.port())) {
            socket.getOutputStream()
                    .write(("POST /api/v1/set-up HTTP/1.0\r\nHost: localhost:1234\r\nContent-Type: application/json\r\n"
                                    + "Content-Length: " + body.length() + "\r\n\r\n" + body)
                            .getBytes(StandardCharsets.UTF_8));
            assertThat(new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8))
                    .contains("Set-Cookie: rimecast-session-1234=");
        }
    }

    @Test
    void setUp_withItsLink_makesTheAdministratorAndSignsIn() {
        HttpResponse<String> answer = setUp();

        assertThat(answer.statusCode()).isEqualTo(200);
        Web ada = after(answer);
        assertThat(ada.json("/api/v1/session").path("account").path("role").stringValue())
                .isEqualTo("administrator");
        assertThat(ada.get("/").statusCode()).isEqualTo(200);
        assertThat(server.people().links().setUp()).isEmpty();
    }

    /** OWASP ASVS 5.0, 3.3: HttpOnly, SameSite; Secure comes with TLS. */
    @Test
    void signIn_cookie_isClosedToScriptsAndOtherSites() {
        setUp();
        HttpResponse<String> answer = signIn(nobody, PHRASE);

        assertThat(cookies(answer)).first().asString().contains("HttpOnly", "SameSite=Lax", "Path=/");
        assertThat(answer.body()).doesNotContain(cookies(answer).get(0).split("[=;]")[1]);
    }

    @Test
    void signIn_again_rotatesTheTokenAndEndsTheOldSession() {
        setUp();
        Web first = after(signIn(nobody, PHRASE));
        Web second = after(signIn(first, PHRASE));

        assertThat(first.get("/api/v1/session").statusCode()).isEqualTo(401);
        assertThat(second.get("/api/v1/session").statusCode()).isEqualTo(200);
    }

    @Test
    void signIn_wrongPasswordAndUnknownName_answerTheSame() {
        setUp();
        HttpResponse<String> wrong = signIn(nobody, "something quite else");
        HttpResponse<String> unknown =
                nobody.post("/api/v1/session", "{\"name\":\"nobody\",\"password\":\"something quite else\"}");

        assertThat(wrong.statusCode()).isEqualTo(401);
        assertThat(wrong.body()).isEqualTo(unknown.body());
        assertThat(cookies(wrong)).isEmpty();
    }

    @Test
    void signIn_tooManyFailures_saysWhenToTryAgain() {
        setUp();
        HttpResponse<String> answer = signIn(nobody, "wrong wrong wrong");
        for (int i = 0; i < 5; i++) {
            answer = signIn(nobody, "wrong wrong wrong");
        }

        assertThat(answer.statusCode()).isEqualTo(429);
        assertThat(answer.headers().firstValue("Retry-After")).isPresent();
    }

    @Test
    void signIn_fromAForeignPage_isRefused() {
        setUp();

        assertThat(nobody.post(
                                "/api/v1/session",
                                "{\"name\":\"ada\",\"password\":\"" + PHRASE + "\"}",
                                "Origin",
                                "http://elsewhere.example")
                        .statusCode())
                .isEqualTo(403);
    }

    @Test
    void signOut_done_endsTheSessionOnTheServer() {
        Web ada = after(setUp());
        HttpResponse<String> answer =
                ada.send(ada.request("/api/v1/session").DELETE().build());

        assertThat(answer.statusCode()).isEqualTo(204);
        assertThat(cookies(answer)).first().asString().contains("Expires=Thu, 01 Jan 1970");
        assertThat(answer.headers().firstValue("Clear-Site-Data")).hasValue("\"cache\"");
        assertThat(ada.get("/api/v1/session").statusCode()).isEqualTo(401);
    }

    @Test
    void changePassword_done_endsEverySessionAndOnlyTheNewOneWorks() {
        Web ada = after(setUp());
        Web other = after(signIn(nobody, PHRASE));
        String next = "nine gulls on a wet roof";

        assertThat(ada.post("/api/v1/account/password", "{\"current\":\"wrong\",\"next\":\"" + next + "\"}")
                        .statusCode())
                .isEqualTo(401);
        assertThat(ada.post("/api/v1/account/password", "{\"current\":\"" + PHRASE + "\",\"next\":\"short\"}")
                        .statusCode())
                .isEqualTo(409);
        assertThat(ada.post("/api/v1/account/password", "{\"current\":\"" + PHRASE + "\",\"next\":\"" + next + "\"}")
                        .statusCode())
                .isEqualTo(204);
        assertThat(ada.get("/api/v1/fleet").statusCode()).isEqualTo(401);
        assertThat(other.get("/api/v1/fleet").statusCode()).isEqualTo(401);
        assertThat(signIn(nobody, PHRASE).statusCode()).isEqualTo(401);
        assertThat(signIn(nobody, next).statusCode()).isEqualTo(200);
    }

    @Test
    void createAccount_itsLink_letsItsOwnerIn() {
        Web ada = after(setUp());
        HttpResponse<String> made =
                ada.post("/api/v1/accounts", "{\"name\":\"Kim\",\"role\":\"operator\",\"sites\":[\"site-2\"]}");
        assertThat(made.statusCode()).isEqualTo(201);
        String link = Web.parse(made).path("link").stringValue();
        assertThat(link).startsWith("/choose-password#");

        String body = "{\"link\":\"" + link.substring(link.indexOf('#') + 1) + "\",\"password\":\"" + PHRASE + "\"}";
        Web kim = after(nobody.post("/api/v1/password", body));

        assertThat(kim.json("/api/v1/sites").size()).isEqualTo(1);
        assertThat(nobody.post("/api/v1/password", body).statusCode()).isEqualTo(404);
        assertThat(ada.post("/api/v1/accounts", "{\"name\":\"Max\",\"role\":\"operator\"}")
                        .statusCode())
                .as("sites left out are not every site")
                .isEqualTo(400);
    }

    @Test
    void page_asNobody_leadsBackAfterSigningIn() {
        assertThat(nobody.get("/alerts?finished=true").headers().firstValue("Location"))
                .hasValue("/sign-in?then=%2Falerts%3Ffinished%3Dtrue");
    }

    @Test
    void demonstration_aBrowserComesInByItself_unlessItLeft() {
        try (FakeServer demo = FakeServer.start(FakeFleets::small)) {
            Web browser = new Web(demo, List.of());
            HttpResponse<String> page = browser.get("/");

            assertThat(page.statusCode()).isEqualTo(200);
            String cookie = cookies(page).get(0);
            Web entered = browser.as(List.of("Cookie", cookie.substring(0, cookie.indexOf(';'))));
            assertThat(entered.json("/api/v1/session")
                            .path("account")
                            .path("name")
                            .stringValue())
                    .isEqualTo(FakeServer.OPERATOR);
            assertThat(browser.get("/api/v1/fleet").statusCode())
                    .as("only a page lets in")
                    .isEqualTo(401);
            String left = "rimecast-left-" + demo.url("").replaceAll(".*:", "") + "=1";
            assertThat(browser.as(List.of("Cookie", left)).get("/").statusCode())
                    .isEqualTo(303);
        }
    }

    @Test
    void demoSession_outsideADemonstration_isNotThere() {
        Account account = server.account("Noor", Role.OPERATOR, SiteScope.EVERY);

        assertThat(nobody.post("/api/v1/demo/session", "{\"account\":\"" + account.id() + "\"}")
                        .statusCode())
                .isEqualTo(404);
        assertThat(nobody.get("/api/v1/demo/accounts").body()).isEqualTo("[]");
    }

    /** A stream that is open tells nothing more once its session has ended, and nothing ever of another site. */
    @Test
    void events_ofAnotherSiteOrAfterTheEnd_areNotSent() {
        Account eli = server.account("Eli", Role.OPERATOR, SiteScope.of(List.of("site-2")));
        List<String> lines = new CopyOnWriteArrayList<>();
        CompletableFuture<Void> stream = nobody.client()
                .sendAsync(nobody.as(eli).request("/api/v1/events").build(), BodyHandlers.ofLines())
                .thenAccept(answer -> answer.body().forEach(lines::add));
        await().until(() -> lines.contains("event: clock"));

        server.changes().publish("cycle", "site-1", "ice-0003", "");
        server.changes().publish("cycle", "site-2", "ice-0007", "");
        await().until(() -> lines.stream().anyMatch(line -> line.contains("ice-0007")));
        assertThat(lines.toString()).doesNotContain("ice-0003").doesNotContain("site-1");

        Visitor admin = server.people()
                .entrance()
                .bySession(server.people()
                        .signIn()
                        .asDemo(
                                server.account("Ada", Role.ADMINISTRATOR, SiteScope.EVERY)
                                        .id(),
                                "x",
                                "x")
                        .orElseThrow())
                .orElseThrow();
        server.people().accounts().change(admin, eli.id(), Role.VIEWER, SiteScope.of(List.of("site-2")), false);
        server.changes().publish("cycle", "site-2", "ice-0008", "");

        await().until(stream::isDone);
        assertThat(lines.toString()).doesNotContain("ice-0008");
    }
}
