package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** The first page: every machine by time left. */
class FleetIT extends Bench {
    /** Where it is asked for, the server answers no request of a page's scripts; what the page shows when all of it has come is kept. */
    private static final String SILENT = """
            const ask = window.fetch;
            window.fetch = (address, options) => sessionStorage.getItem('silent') ? new Promise(() => {}) : ask(address, options);
            addEventListener('load', () => {
              window.loaded = document.body.innerText;
            });""";

    @BeforeAll
    static void prepare() {
        browser.beforeEachPage(SILENT);
    }

    @Test
    void page_thatIsThere_hasItsRowsBeforeAnythingIsAskedFor() {
        browser.go(server.url("/sign-in"));
        browser.run("sessionStorage.setItem('silent', 'yes')");

        browser.go(server.url("/"));

        assertThat((String) browser.run("return window.loaded"))
                .as("at the load event")
                .contains("24 machines", "ice-0014", "Condensing temperature is rising", "All stages work", "Noor")
                .doesNotContain("Loading");
        assertThat(machines()).startsWith("ice-0014", "ice-0007").hasSize(7);
        assertThat(browser.complaints())
                .as("nothing that the policy refuses")
                .noneMatch(said -> said.contains("Content Security Policy"));
        assertThat(browser.violations()).isEmpty();
        browser.run("sessionStorage.clear()");
    }

    @Test
    void page_ofALargeFleet_hasItsFirstRowsAndNoNumberBeforeTheOthersCome() {
        try (FakeServer large = FakeServer.start((clock, changes) -> FakeFleets.large(clock, changes, 250, 5))) {
            browser.go(large.url("/sign-in"));
            browser.run("sessionStorage.setItem('silent', 'yes')");

            browser.go(large.url("/"));

            assertThat(browser.run("return window.loaded").toString()).contains("ice-0005", "Loading");
            assertThat(browser.texts(".row .id")).startsWith("ice-0005").hasSize(50);
            assertThat(browser.texts(".calm .id")).hasSize(50);
            assertThat(browser.all(".count")).isEmpty();
            assertThat(browser.violations()).isEmpty();
            browser.find("input[name=q]").sendKeys("ice-0249");
            browser.until(
                    "it waits for the others",
                    b -> b.all(".groups [data-machine]").isEmpty());
            assertThat(browser.texts(".groups").toString()).contains("Loading").doesNotContain("No machine");

            browser.run("sessionStorage.clear()");
            browser.go(large.url("/"));
            browser.until("all are there", b -> b.texts(".summary").toString().contains("250 machines"));
            assertThat(browser.texts(".count").stream()
                            .mapToInt(Integer::parseInt)
                            .sum())
                    .isEqualTo(250);
        }
    }

    @Test
    void page_gotBackTo_showsWhatIsSoNow() {
        browser.go(server.url("/"));
        browser.find(".row[data-machine=ice-0011]");
        AlertView alert = server.fleet().leading("ice-0011");
        browser.go(server.url("/alerts"));
        browser.find(".row");
        server.fleet().acknowledge(alert.finding().id(), alert.version(), "Ana", "by telephone");

        browser.run("history.back()");

        browser.until(
                "Ana has it",
                b -> b.texts(".row[data-machine=ice-0011] .who").toString().contains("Ana"));
    }

    @Test
    void fleet_opened_isOrderedByTimeLeft() {
        browser.go(server.url("/"));
        browser.find(".row");

        assertThat(machines())
                .startsWith("ice-0014", "ice-0007")
                .containsSubsequence("ice-0003", "ice-0011")
                .hasSize(7);
        assertThat(browser.texts(".calm .id")).hasSize(17);
    }

    @Test
    void fleet_siteRunsOutOfIce_saysHowManyKilogramsAndWhen() {
        browser.go(server.url("/"));
        browser.find(".row");

        assertThat(browser.texts(".row .ice.short"))
                .anySatisfy(text -> assertThat(text).contains("runs out of ice on", "kg short"));
        assertThat(browser.texts(".row .ice")).noneMatch(text -> text.contains("Not known"));
    }

    @Test
    void fleet_searched_showsMatchesAndKeepsTheSearchInTheAddress() {
        browser.go(server.url("/"));
        browser.find("input[name=q]").sendKeys("condenser quay");
        browser.until("one row left", b -> machines().equals(List.of("ice-0003")));

        assertThat((String) browser.run("return location.search")).isEqualTo("?q=condenser+quay");
        browser.go(server.url("/?q=condenser+quay"));
        browser.find(".row");
        assertThat(machines()).containsExactly("ice-0003");
    }

    @Test
    void fleet_alertIsOver_movesWithoutReload() {
        browser.go(server.url("/"));
        browser.find("[data-machine=ice-0014].row");
        browser.until(
                "the stream is open",
                b -> b.run("return document.title").toString().startsWith("Fleet"));

        server.fleet().clear("ice-0014");

        browser.until(
                "the state has changed",
                b -> b.texts("[data-machine=ice-0014] .state").contains("over, not yet seen"));
    }

    @Test
    void fleet_changesUnderThePointer_doesNotMoveUntilAsked() {
        browser.go(server.url("/"));
        browser.find(".row");
        browser.run(
                "setInterval(() => document.querySelector('.groups').dispatchEvent(new Event('pointermove', {bubbles:"
                        + " true})), 200)");
        List<String> before = machines();
        browser.run("document.querySelector('.row .id').focus()");

        server.fleet().clear("ice-0014");
        browser.until("told that the order has changed", b -> !b.all(".moved").isEmpty());

        assertThat(machines())
                .as("while somebody points")
                .startsWith("ice-0007")
                .hasSameSizeAs(before);
    }

    @Test
    void row_ofAMachineWithTrouble_saysWhatSinceWhenWhyByWhenAndWhoHasIt() {
        browser.go(server.url("/"));
        browser.find(".row[data-machine=ice-0003]");

        assertThat(row("ice-0003"))
                .containsSubsequence(
                        " days",
                        "ice-0003",
                        "Quay Street Canteen",
                        "Condensing temperature is rising",
                        "new",
                        "Condenser stands 22.8 K above the room",
                        "Likely:",
                        "air cannot get through the condenser",
                        "since",
                        "Act by",
                        "Who has it",
                        "nobody yet");
        assertThat(row("ice-0018")).contains("Ice comes off after 288 s", "seen", "Noor");
    }

    private static String row(String machine) {
        return String.join("", browser.texts(".row[data-machine=" + machine + "]"));
    }

    @Test
    void filters_ofSiteAndState_areInTheAddressAndComeBack() {
        browser.go(server.url("/"));
        browser.find(".row");
        choose("site", "site-1");
        browser.until("its machines", b -> b.run("return location.search").equals("?site=site-1"));
        choose("show", "new");
        browser.until("new ones", b -> b.run("return location.search").equals("?site=site-1&show=new"));
        List<String> shown = machines();
        assertThat(shown).contains("ice-0003").doesNotContain("ice-0007");

        browser.go(browser.run("return location.href").toString());
        browser.find(".row");
        assertThat(machines()).isEqualTo(shown);
        assertThat(browser.run("return document.querySelector('[name=site]').value"))
                .isEqualTo("site-1");
        press("Clear");
        browser.until("all of them", b -> machines().size() == 7);
        assertThat(browser.run("return location.search")).isEqualTo("");
    }

    private static void choose(String field, String value) {
        browser.run(
                "const f = document.querySelector(`[name=${arguments[0]}]`); f.value = arguments[1];"
                        + "f.dispatchEvent(new Event('change', {bubbles: true}))",
                field,
                value);
    }

    private static List<String> machines() {
        return browser.texts(".row .id");
    }
}
