package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.Answer;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.people.Tokens;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.dashboard.RouteTable.Row;
import dev.rimecast.dashboard.access.Access;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import dev.rimecast.dashboard.http.Pages;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.dataformat.yaml.YAMLMapper;

/**
 * Walks every route as nobody, as each role, as an API token, and as an administrator of another site with the first
 * site's ids (OWASP ASVS 5.0, 8.2.2 and 8.4.1).
 */
class AccessTest {
    private static final String SITE = "site-1";
    private static final SiteScope HERE = SiteScope.of(List.of(SITE));
    private static final SiteScope ELSEWHERE = SiteScope.of(List.of("site-2"));
    private static final String MACHINE = "ice-0003";
    private static final Person ADA = new Person("ada");

    private static FakeServer server;
    private static Web nobody;
    /** What belongs to the first site, by placeholder. */
    private static final Map<String, String> HERES = new HashMap<>();

    private static Account elsewhere;

    @BeforeAll
    static void start() {
        server = FakeServer.guarded(FakeFleets::small);
        nobody = new Web(server, List.of());
        elsewhere = server.account("Eli of elsewhere", Role.ADMINISTRATOR, ELSEWHERE);
        Account here = server.account("Hedda of here", Role.ADMINISTRATOR, HERE);
        Views views = server.fleet();
        AlertView alert = server.fleet().leading(MACHINE);
        assertThat(alert.finding().site()).isEqualTo(SITE);
        HERES.put("machine", MACHINE);
        HERES.put("reject", "0-7");
        HERES.put("claimed", "ice-9001");
        HERES.put("letter", "6f9c8a3e-5d0b-3c86-9f0a-2f1d7c4b6a55");
        HERES.put("site", SITE);
        HERES.put("tomorrow", Instant.now().plus(Duration.ofDays(1)).toString());
        HERES.put("now", Instant.now().toString());
        HERES.put("alert", alert.finding().id().toString());
        HERES.put("case", alert.caseId().orElseThrow().toString());
        HERES.put("hold", held(views).toString());
        Web administers = nobody.as(server.headers(Role.ADMINISTRATOR));
        JsonNode link = Web.parse(administers.post("/api/v1/cases/" + HERES.get("case") + "/site-links", "{}"));
        HERES.put("link", link.path("link").path("id").stringValue());
        JsonNode work = Web.parse(administers.post(
                "/api/v1/machines/" + MACHINE + "/work-reports",
                "{\"id\":\"" + UUID.randomUUID() + "\",\"found\":\"scale\",\"done\":[{\"what\":\"refrigerant-added\","
                        + "\"detail\":\"R290\",\"grams\":20}]}"));
        HERES.put("report", work.path("work").path("id").stringValue());
        HERES.put("photo", Jpegs.stored(administers, HERES.get("report")).toString());
        HERES.put("commissioning", commissioning(administers, MACHINE));
        HERES.put("mark", server.marks().ofPast(MACHINE, SITE).toString());
        HERES.put(
                "visit",
                server.visits().list(HERE, Visits.Filter.OPEN).get(0).id().toString());
        HERES.put("today", LocalDate.now(ZoneOffset.UTC).toString());
        HERES.put("account", here.id().toString());
        Web administrator = nobody.as(server.headers(Role.ADMINISTRATOR));
        JsonNode notice = administrator
                .json("/api/v1/notices")
                .valueStream()
                .filter(each -> each.path("site").asString("").equals(SITE)
                        && each.path("state").stringValue().equals("failed"))
                .findFirst()
                .orElseThrow();
        HERES.put("notice", notice.path("id").stringValue());
        HERES.put(
                "receiver",
                administrator.json("/api/v1/receivers").get(0).path("name").stringValue());
        String session = server.people().signIn().asDemo(here.id(), "x", "x").orElseThrow();
        Visitor visitor = server.people().entrance().bySession(session).orElseThrow();
        HERES.put("session", visitor.session().orElseThrow().id().toString());
        HERES.put("token", token(visitor).token().id().toString());
        HERES.put(
                "calendar",
                server.calendars()
                        .make(visitor, Optional.empty())
                        .orElseThrow()
                        .link()
                        .id()
                        .toString());
    }

    /** A whole record of a machine, as its page would send it. */
    static String commissioning(Web web, String machine) {
        String answers = web.json("/api/v1/machines/" + machine + "/commissioning")
                .path("checklist")
                .path("sections")
                .valueStream()
                .flatMap(section -> section.path("items").valueStream())
                .map(item -> "{\"item\":" + item.path("id") + ",\"result\":\"ok\"}")
                .collect(Collectors.joining(","));
        return "{\"id\":\"" + UUID.randomUUID() + "\",\"answers\":[" + answers + "]}";
    }

    private static UUID held(Views views) {
        String other = views.fleet().stream()
                .filter(row -> row.site().equals(SITE) && !row.machine().equals(MACHINE))
                .findFirst()
                .orElseThrow()
                .machine();
        Actions.HoldOutcome held =
                server.fleet().takeOutOfService(other, ADA, new Action.TakeOutOfService("reason", "head"));
        return ((Actions.HoldOutcome.Done) held).hold().id();
    }

    private static Tokens.Made token(Visitor visitor) {
        Answer<Tokens.Made> made = server.people()
                .tokens()
                .make(
                        visitor,
                        "a token of here",
                        visitor.account().role(),
                        visitor.sites(),
                        Instant.now().plusSeconds(600));
        return ((Answer.Done<Tokens.Made>) made).value();
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    static Stream<Row> rows() {
        return RouteTable.ROWS.stream();
    }

    @Test
    void routes_ofTheServerTheDescriptionAndTheTable_areTheSame() throws IOException {
        Set<String> served = server.routes().keySet().stream()
                .map(route -> route.replaceAll("\\{[^}]*}", "{}"))
                .filter(route -> !pages().contains(route))
                .collect(Collectors.toCollection(TreeSet::new));
        Set<String> table = RouteTable.ROWS.stream().map(Row::route).collect(Collectors.toCollection(TreeSet::new));
        Set<String> described = new TreeSet<>();
        JsonNode paths = new YAMLMapper()
                .readTree(Files.readString(Path.of("../docs/openapi.yaml")))
                .path("paths");
        paths.propertyStream()
                .forEach(path -> Stream.of("get", "post", "put", "patch", "delete")
                        .filter(path.getValue()::has)
                        .forEach(method -> described.add(method.toUpperCase(java.util.Locale.ROOT)
                                + ' '
                                + path.getKey().replaceAll("\\{[^}]*}", "{}"))));

        assertThat(served).isEqualTo(table);
        assertThat(described).isEqualTo(table);
        assertThat(server.routes())
                .allSatisfy((route, rules) -> assertThat(rules)
                        .as("rules of %s", route)
                        .singleElement()
                        .isInstanceOf(Access.class));
    }

    /** Routes that are no part of the API: pages, of which the first alone has data in it ({@link FirstLookTest}), their files, and what takes the rest. */
    private static Set<String> pages() {
        Set<String> pages = new LinkedHashSet<>(List.of("GET /assets/{}/<name>", "GET /api/*"));
        for (Pages.Page page : Pages.Page.values()) {
            pages.add("GET " + page.path().replaceAll("\\{[^}]*}", "{}"));
        }
        return pages;
    }

    @ParameterizedTest
    @MethodSource("rows")
    void route_asNobody_isRefusedUnlessItIsOpen(Row row) {
        Answered answer = Answered.ask(nobody, row, HERES);

        if (row.isOpen()) {
            assertThat(answer.statusCode()).isEqualTo(row.foreign());
        } else {
            assertThat(answer.statusCode()).isEqualTo(401);
            assertThat(answer.kind()).isEqualTo("not-signed-in");
        }
        assertThat(foreign(Answered.without(answer.body(), HERES), SiteScope.of(List.of())))
                .isEmpty();
    }

    @ParameterizedTest
    @MethodSource("rows")
    void route_asEachRole_isRefusedWhereTheTableDoesNotNameIt(Row row) {
        for (Role role : Role.values()) {
            Answered answer = Answered.ask(nobody.as(server.headers(role)), row, HERES);

            if (row.isOpen()) {
                assertThat(answer.statusCode()).as(role.code()).isEqualTo(row.foreign());
            } else if (row.roles().contains(role)) {
                assertThat(answer.kind()).as(role.code()).isNotIn("not-signed-in", "not-permitted", "forgery-token");
                assertThat(answer.statusCode()).as(role.code()).isNotIn(400, 403, 405, 415, 500);
            } else {
                assertThat(answer.statusCode()).as(role.code()).isEqualTo(403);
                assertThat(answer.kind()).as(role.code()).isEqualTo("not-permitted");
            }
        }
    }

    @ParameterizedTest
    @MethodSource("rows")
    void route_changingBySessionWithoutItsForgeryToken_isRefused(Row row) {
        if (row.isOpen() || !row.changes()) {
            return;
        }
        List<String> headers = server.headers(Role.ADMINISTRATOR);
        List<String> cookieOnly = headers.subList(0, 2);
        List<String> ofAnother = new ArrayList<>(cookieOnly);
        ofAnother.addAll(server.headers(Role.ADMINISTRATOR).subList(2, 4));

        for (List<String> without : List.of(cookieOnly, ofAnother)) {
            Answered answer = Answered.ask(nobody.as(without), row, HERES);
            assertThat(answer.statusCode()).isEqualTo(403);
            assertThat(answer.kind()).isEqualTo("forgery-token");
        }
    }

    @ParameterizedTest
    @MethodSource("rows")
    void route_byToken_isRefusedWhereAPersonIsNeeded(Row row) {
        Account administrator = server.account("administrator", Role.ADMINISTRATOR, SiteScope.EVERY);
        String session =
                server.people().signIn().asDemo(administrator.id(), "x", "x").orElseThrow();
        Visitor visitor = server.people().entrance().bySession(session).orElseThrow();
        Tokens.Made made = token(visitor);
        Web script = nobody.as(List.of("Authorization", "Bearer " + made.secret()));

        Answered answer = Answered.ask(script, row, HERES);
        if (row.inPerson()) {
            assertThat(answer.statusCode()).isEqualTo(403);
        } else if (!row.isOpen()) {
            assertThat(answer.statusCode()).isNotIn(400, 401, 403, 415, 500);
        }
        server.people().tokens().revoke(visitor, made.token().id());
        int after = Answered.ask(script, row, HERES).statusCode();
        assertThat(after).isEqualTo(row.isOpen() ? row.foreign() : 401);
    }

    /** The strongest: what is on another site is told from what does not exist by nothing. */
    @ParameterizedTest
    @MethodSource("rows")
    void route_ofAnotherSite_answersAsIfNothingWereThere(Row row) {
        Map<String, String> nothings = new HashMap<>(HERES);
        nothings.replaceAll((name, value) -> switch (name) {
            case "machine" -> "ice-9999";
            case "site" -> "site-nowhere";
            case "receiver" -> "no-such-receiver";
            case "tomorrow", "today", "now", "commissioning" -> value;
            default -> UUID.randomUUID().toString();
        });
        Role role = row.isOpen() || row.roles().contains(Role.ADMINISTRATOR) ? Role.ADMINISTRATOR : Role.VIEWER;
        assertThat(role).isEqualTo(elsewhere.role());

        Answered answer = Answered.ask(nobody.as(elsewhere), row, HERES);
        Answered nothing = Answered.ask(nobody.as(elsewhere), row, nothings);

        int expected = row.path().equals("/metrics") ? 200 : row.foreign();
        assertThat(answer.statusCode()).isEqualTo(expected);
        assertThat(nothing.statusCode()).isEqualTo(expected);
        if (expected == 404) {
            assertThat(Answered.without(answer.body(), HERES)).isEqualTo(Answered.without(nothing.body(), nothings));
        }
        assertThat(foreign(Answered.without(answer.body(), HERES), ELSEWHERE)).isEmpty();
        assertThat(server.fleet().leading(MACHINE).siteName()).isNotEmpty();
    }

    @Test
    void lists_ofAnotherSite_haveItsOwnAndCountOnlyThose() {
        Web web = nobody.as(elsewhere);
        long machines = server.fleet().fleet().stream()
                .filter(row -> row.site().equals("site-2"))
                .count();

        JsonNode fleet = web.json("/api/v1/fleet");
        assertThat(fleet.path("total").asLong()).isEqualTo(machines).isPositive();
        assertThat(fleet.path("machines").size()).isEqualTo((int) machines);
        assertThat(web.json("/api/v1/sites").size()).isEqualTo(1);
        assertThat(web.json("/api/v1/alerts?open=false&limit=1").size()).isEqualTo(1);
        assertThat(web.json("/api/v1/alerts?machine=" + MACHINE).size()).isZero();
        assertThat(web.json("/api/v1/cases?open=false").size()).isPositive();
        assertThat(web.json("/api/v1/holds"))
                .allSatisfy(hold -> assertThat(hold.path("site").stringValue()).isEqualTo("site-2"));
        assertThat(web.json("/api/v1/accounts").size()).isEqualTo(1);
        assertThat(nobody.as(server.account("No sites", Role.OPERATOR, SiteScope.of(List.of())))
                        .json("/api/v1/fleet")
                        .path("total")
                        .asInt())
                .isZero();
    }

    @Test
    void foreign_checksItself_findsWhatIsOfTheFirstSite() {
        String body =
                nobody.as(server.headers(Role.VIEWER)).get("/api/v1/fleet").body();

        assertThat(foreign(body, ELSEWHERE)).contains(MACHINE, SITE);
        assertThat(foreign(body, SiteScope.EVERY)).isEmpty();
    }

    @Test
    void page_asNobody_leadsToTheSignInPageUnlessItIsOpen() {
        for (Pages.Page page : Pages.Page.values()) {
            String path = page.path().replace("{id}", "x");
            HttpResponse<String> answer = nobody.get(path);
            if (page.isOpen()) {
                assertThat(answer.statusCode()).as(path).isEqualTo(200);
            } else {
                assertThat(answer.statusCode()).as(path).isEqualTo(303);
                assertThat(answer.headers().firstValue("Location").orElseThrow())
                        .startsWith("/sign-in")
                        .doesNotContain("//");
                assertThat(answer.body()).isEqualTo("Redirected");
            }
        }
    }

    /** Ids and names in the text that belong to sites outside the scope. */
    private static List<String> foreign(String text, SiteScope scope) {
        Views views = server.fleet();
        Set<String> names = new LinkedHashSet<>();
        views.sites().stream().filter(site -> !scope.includes(site.id())).forEach(site -> {
            names.add(site.id());
            names.add(site.name());
        });
        views.fleet().stream().filter(row -> !scope.includes(row.site())).forEach(row -> {
            names.add(row.machine());
            names.add(views.machine(row.machine()).orElseThrow().machine().gateway());
        });
        views.alerts(AlertFilter.EVERY, 1_000).stream()
                .filter(alert -> !scope.includes(alert.finding().site()))
                .forEach(alert -> names.add(alert.finding().id().toString()));
        views.cases(false, 1_000).stream()
                .filter(view -> !scope.includes(view.site()))
                .forEach(view -> names.add(view.id().toString()));
        views.holds().stream()
                .filter(hold -> !scope.includes(hold.site()))
                .forEach(hold -> names.add(hold.id().toString()));
        server.visits().list(SiteScope.EVERY, Visits.Filter.OPEN).stream()
                .filter(visit -> !scope.includes(visit.site()))
                .forEach(visit -> names.add(visit.id().toString()));
        if (!scope.isEvery()) {
            names.add("Hedda of here");
            names.add(HERES.get("notice"));
            names.add(HERES.get("mark"));
            names.add(HERES.get("receiver"));
            names.add(HERES.get("account"));
        }
        return names.stream().filter(name -> stands(name, text)).toList();
    }

    private static boolean stands(String name, String text) {
        Matcher matcher = Pattern.compile("(?<![\\w-])" + Pattern.quote(name) + "(?![\\w-])")
                .matcher(text);
        return matcher.find();
    }
}
