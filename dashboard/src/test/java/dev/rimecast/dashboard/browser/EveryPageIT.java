package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import dev.rimecast.dashboard.http.Pages;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * What holds on every page, with much to show and with nothing: WCAG 2.2 AA by axe-core, no complaint in the console, and nothing
 * wider than a phone.
 */
class EveryPageIT {
    private static Browser browser;
    private static FakeServer server;
    private static FakeServer empty;
    private static FakeServer guarded;
    private static FakeServer caring;
    /** Where an administrator has come in, who may see every page. */
    private static FakeServer administered;

    private static FakeServer administeredEmpty;

    @BeforeAll
    static void start() {
        browser = Browser.open();
        server = FakeServer.start(FakeFleets::small);
        empty = FakeServer.start(FakeFleets::empty);
        guarded = FakeServer.guarded(FakeFleets::small);
        caring = FakeServer.start(FakeFleets::careDue);
        administered = administered(FakeServer.start(FakeFleets::small));
        administeredEmpty = administered(FakeServer.start(FakeFleets::empty));
    }

    private static FakeServer administered(FakeServer entered) {
        entered.account("administrator", Role.ADMINISTRATOR, SiteScope.EVERY);
        browser.go(entered.url("/sign-in"));
        browser.until("the way in", b -> b.texts("button").contains("Enter as administrator"));
        browser.run(
                "[...document.querySelectorAll('button')].find(b => b.textContent === 'Enter as administrator').click()");
        browser.until("the administrator", b -> b.texts(".who-am-i a").equals(List.of("administrator")));
        return entered;
    }

    @AfterAll
    static void stop() {
        if (browser != null) {
            browser.close();
            server.close();
            empty.close();
            guarded.close();
            caring.close();
            administered.close();
            administeredEmpty.close();
        }
    }

    static Stream<String> pages() {
        String id = server.fleet().leading("ice-0003").finding().id().toString();
        return Stream.of(
                server.url("/"),
                server.url("/?q=nothing+like+this"),
                server.url("/?view=site"),
                server.url("/alerts?finished=true"),
                server.url("/alerts/" + id),
                server.url("/cases?finished=true"),
                server.url("/visits"),
                server.url("/visits?view=site&ended=true"),
                caring.url("/visits"),
                caring.url(sheet(caring)),
                server.url(sheet(server)),
                empty.url("/visits"),
                server.url("/events"),
                server.url("/notices"),
                server.url("/machines/ice-0003"),
                server.url("/machines/ice-0001"),
                server.url("/work-report/ice-0003"),
                server.url("/care/ice-0003"),
                server.url("/site-care/site-1"),
                server.url("/site-care/site-2"),
                server.url("/figures"),
                server.url("/commissioning/ice-0003"),
                server.url("/thresholds"),
                server.url("/account"),
                server.url("/tokens"),
                server.url("/sign-in"),
                server.url("/set-up#a-link"),
                server.url("/choose-password#a-link"),
                server.url("/choose-password"),
                server.url("/site-check"),
                guarded.url("/sign-in"),
                empty.url("/"),
                empty.url("/alerts"),
                empty.url("/cases"),
                empty.url("/events"),
                empty.url("/notices"),
                server.url("/alerts/" + id + "/why"),
                server.url("/wall#" + server.screen(SiteScope.EVERY)),
                server.url("/wall"),
                server.url("/site-check#"
                        + server.siteLinks()
                                .secret(
                                        server.fleet()
                                                .leading("ice-0003")
                                                .caseId()
                                                .orElseThrow(),
                                        "ice-0003")),
                empty.url("/wall#" + empty.screen(SiteScope.EVERY)),
                empty.url("/figures"),
                administered.url("/"),
                administered.url("/alerts/"
                        + administered.fleet().leading("ice-0020").finding().id()),
                administered.url("/visits"),
                administered.url("/events"),
                administered.url("/rules"),
                administered.url("/rules/priority"),
                administered.url("/rules/advice"),
                administered.url("/thresholds"),
                administered.url("/system"),
                administered.url("/tokens"),
                administered.url("/accounts"),
                administeredEmpty.url("/"),
                administeredEmpty.url("/system"),
                administeredEmpty.url("/rules/priority"),
                administeredEmpty.url("/thresholds"),
                administeredEmpty.url("/visits"));
    }

    /** Every page that the product has: a new one is looked at here, or this fails by its name. */
    @Test
    void pages_ofTheProduct_areAllLookedAt() {
        List<String> paths = pages().map(
                        url -> url.replaceFirst("^http://[^/]+", "").replaceFirst("[?#].*", ""))
                .toList();

        assertThat(Pages.Page.values())
                .allSatisfy(page -> assertThat(paths)
                        .as("pages like %s", page.path())
                        .anyMatch(path -> path.matches(page.path().replaceAll("\\{[^}]*}", "[^/]+"))));
    }

    /** Of the first visit to come. */
    private static String sheet(FakeServer at) {
        return "/visits/"
                + at.visits().list(SiteScope.EVERY, Visits.Filter.OPEN).get(0).id();
    }

    @ParameterizedTest
    @MethodSource("pages")
    void page_everyOne_passesInLightDarkAndOnAPhone(String url) {
        browser.complaints();
        browser.wide();
        open(url);
        for (String scheme : List.of("light", "dark")) {
            browser.scheme(scheme);
            assertThat(browser.violations()).as("%s, %s", url, scheme).isEmpty();
        }
        browser.phone();
        open(url);
        assertThat(browser.violations()).as("%s on a phone", url).isEmpty();
        assertThat((Number) browser.run("return document.documentElement.scrollWidth"))
                .as("%s scrolls sideways", url)
                .isEqualTo(390L);
        assertThat(browser.complaints()).as("console of %s", url).isEmpty();
        browser.wide();
        browser.scheme("light");
    }

    @Test
    void machine_unknown_saysSo() {
        browser.go(server.url("/machines/ice-9999"));

        browser.until(
                "says that there is none",
                b -> b.texts("[role=alert]").toString().contains("no such machine"));
        assertThat(browser.texts("h1")).containsExactly("ice-9999");
        assertThat(browser.violations()).isEmpty();
    }

    @Test
    void address_unknown_leadsBackToTheFleet() {
        browser.go(server.url("/nothing/here"));

        browser.until("the way back", b -> b.texts("main a").equals(List.of("To the fleet")));
        assertThat((String) browser.run("return document.querySelector('main a').pathname"))
                .isEqualTo("/");
    }

    private static void open(String url) {
        if (url.contains("#")) {
            // an address that differs behind the hash sign alone opens nothing
            browser.go("about:blank");
        }
        browser.go(url);
        browser.find("h1");
        browser.until(
                "it has loaded",
                b -> b.texts("main .quietly[role=status]").stream().noneMatch(said -> said.contains("Loading")));
        if (url.contains("/site-check") || url.contains("/wall")) {
            return;
        }
        browser.until("foot is there", b -> b.texts(".foot").toString().contains("version"));
        if (url.contains("/machines/")) {
            browser.until(
                    "plots are there",
                    b -> b.all(".canvas:not(.proof .canvas) canvas").size() == 9);
        }
    }
}
