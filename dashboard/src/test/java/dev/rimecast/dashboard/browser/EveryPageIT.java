package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What holds on every page: WCAG 2.2 AA by axe-core, no complaint in the console, and nothing wider than a phone. */
class EveryPageIT {
    private static Browser browser;
    private static FakeServer server;
    private static FakeServer empty;
    private static FakeServer guarded;
    private static FakeServer caring;

    @BeforeAll
    static void start() {
        browser = Browser.open();
        server = FakeServer.start(FakeFleets::small);
        empty = FakeServer.start(FakeFleets::empty);
        guarded = FakeServer.guarded(FakeFleets::small);
        caring = FakeServer.start(FakeFleets::careDue);
    }

    @AfterAll
    static void stop() {
        if (browser != null) {
            browser.close();
            server.close();
            empty.close();
            guarded.close();
            caring.close();
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
                empty.url("/notices"));
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
        for (String scheme : List.of("light", "dark")) {
            browser.wide();
            browser.scheme(scheme);
            open(url);
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
        browser.go(url);
        browser.find("h1");
        if (url.contains("/site-check")) {
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
