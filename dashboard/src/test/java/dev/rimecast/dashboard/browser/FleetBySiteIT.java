package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.dashboard.fake.FakeChain;
import dev.rimecast.dashboard.fake.FakeServer;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;

/** The fleet for whoever sends people to places: a row for each site. */
class FleetBySiteIT extends Bench {
    private static final String SITES = "select[name=view]";

    @Test
    void sites_chosenByKeyboard_standByTimeLeftWithWhatIsWrongIceAndMachines() {
        browser.complaints();
        browser.go(server.url("/"));
        browser.find(".row[data-machine]");
        browser.run("document.querySelector(\"" + SITES + "\").focus()");
        browser.find(SITES).sendKeys(Keys.ARROW_DOWN);
        browser.until("sites", b -> !b.all(".row[data-site]").isEmpty());

        assertThat((String) browser.run("return location.search")).isEqualTo("?view=site");
        assertThat(browser.texts(".row[data-site] .which .id"))
                .as(
                        "the stopped machine's site first, then by time left, what cannot be dated, and what is over or put aside")
                .containsExactly(
                        "Hillside Ward Block",
                        "Larch Hotel",
                        "Station Kitchen",
                        "Quay Street Canteen",
                        "Mill Bar",
                        "Orchard School");
        assertThat(text("site-4"))
                .contains("stopped", "ice-0014", "1 of 4 machines affected", "nobody yet")
                .contains("runs out of ice on Friday 8 May 18:10", "38 kg short");
        assertThat(text("site-5"))
                .as("two machines of one site, each with its own trouble")
                .contains("2 of 4 machines affected", "ice-0018", "ice-0020", "Noor");
        assertThat(browser.texts(".summary").get(0)).startsWith("6 sites: ");

        browser.go((String) browser.run("return location.href"));
        browser.find(".row[data-site]");
        assertThat(browser.texts("[data-machine]")).as("the address keeps it").isEmpty();
        for (String scheme : List.of("light", "dark")) {
            browser.scheme(scheme);
            assertThat(browser.violations()).as(scheme).isEmpty();
        }
        browser.phone();
        assertThat((Number) browser.run("return document.documentElement.scrollWidth"))
                .isEqualTo(390L);
        assertThat(browser.violations()).as("on a phone").isEmpty();

        browser.run("document.querySelector('.row[data-site=\"site-5\"] .which a').focus()");
        browser.find(".row[data-site='site-5'] .which a").sendKeys(Keys.ENTER);
        browser.until("its machines", b -> b.all("[data-machine]").size() == 4);
        assertThat((String) browser.run("return location.search")).isEqualTo("?site=site-5");
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void sites_tenThousandMachinesOn2500_areUsable() {
        try (FakeServer chain = FakeServer.start((clock, changes) -> FakeChain.of(clock, changes, 2_500))) {
            browser.go(chain.url("/?view=site"));
            browser.until("rows are there", b -> b.texts(".summary").toString().contains("2500 sites"));
            assertThat(browser.texts(".row[data-site] .which .id"))
                    .startsWith("Branch 0007", "Branch 0050", "Branch 0100", "Branch 0150")
                    .hasSize(51);
            assertThat(text("site-50")).contains("ice-0050-1, ice-0050-2", "2 of 4 machines");
            assertThat(((Number) browser.run("return document.querySelectorAll('*').length")).longValue())
                    .as("elements on the page")
                    .isLessThan(6_000);
            double typed = ((Number)
                            browser.runAsync("const done = arguments[0], box = document.querySelector('[name=q]');"
                                    + "const started = performance.now(); box.value = 'Branch 2499';"
                                    + "box.dispatchEvent(new Event('input', {bubbles: true}));"
                                    + "const look = () => document.querySelectorAll('.calm').length === 1"
                                    + " ? done(performance.now() - started) : requestAnimationFrame(look); look();"))
                    .doubleValue();
            System.out.printf("2,500 sites with 10,000 machines: search shown after %.0f ms%n", typed);
            assertThat(typed).as("milliseconds from a key to the row").isLessThan(1_500);

            browser.run("const q = document.querySelector('[name=q]'); q.value = '';"
                    + "q.dispatchEvent(new Event('input', {bubbles: true}))");
            browser.until("all are back", b -> b.all(".calm").size() > 1);
            browser.run("window.scrollTo(0, document.body.scrollHeight)");
            browser.until(
                    "the last site is drawn",
                    b -> !b.all("[data-site='site-2499']").isEmpty());
        }
    }

    private String text(String site) {
        return String.join("", browser.texts(".row[data-site=" + site + "]"));
    }
}
