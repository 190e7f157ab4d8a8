package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;

/** The hygiene record of a site: what somebody shows to an inspector. */
class CareRecordIT extends Bench {
    @Test
    void record_ofASite_saysOfWhichMachinesNothingIsThere_andSavesWhatItShows() {
        browser.go(server.url("/events?site=site-1"));
        browser.find("a[href='/site-care/site-1']").click();
        browser.find("[data-care=cleaned]");

        assertThat(browser.texts("h1")).containsExactly("Care record of Quay Street Canteen");
        assertThat(browser.texts("tbody td a")).containsExactly("ice-0003");
        assertThat(browser.texts("tbody th").get(0)).as("a record has its year").containsPattern("20\\d\\d");
        assertThat(browser.texts("[data-without]").get(0)).contains("3 machines", "ice-0001", "ice-0002", "ice-0004");
        assertThat(browser.violations()).isEmpty();
        assertThat(saved()).hasSize(2).anyMatch(line -> line.contains(",ice-0003,site-1,cleaned,"));

        browser.run("const f = document.querySelector('[name=from]'); f.value = '2020-01-01';"
                + "f.dispatchEvent(new Event('change', {bubbles: true}))");
        browser.run("const f = document.querySelector('[name=to]'); f.value = '2020-12-31';"
                + "f.dispatchEvent(new Event('change', {bubbles: true}))");
        browser.until("nothing then", b -> b.texts("main").toString().contains("No care was reported of these days."));
        assertThat(browser.texts(".summary").get(0)).contains("From Jan 1, 2020 to Dec 31, 2020.");
        assertThat(browser.texts("[data-without]").get(0)).contains("4 machines");
        assertThat(saved()).as("the heading alone").hasSize(1);

        String address = (String) browser.run("return location.href");
        assertThat(address).endsWith("?from=2020-01-01&to=2020-12-31");
        browser.go(address);
        browser.until("kept in the address", b -> b.texts("main").toString().contains("of these days"));
    }

    /** Answers of records come only when a test lets them: in {@code held}, in the order of the questions. */
    private static final String HOLD = """
            const ask = window.fetch;
            window.held = [];
            window.fetch = (address, options) => !window.hold || !/[/]care-record([?]|$)/.test(address)
              ? ask(address, options)
              : new Promise((resolve) => window.held.push({go: () => ask(address, options).then(resolve),
                  fail: () => resolve(new Response(JSON.stringify({type: 'urn:rimecast:problem:internal', title: 'Failed', status: 500, detail: 'the disk is full'}),
                    {status: 500, headers: {'Content-Type': 'application/problem+json'}}))}));""";

    private static void chooseFirstDay(String day) {
        browser.run(
                "const f = document.querySelector('[name=from]'); f.value = arguments[0];"
                        + "f.dispatchEvent(new Event('change', {bubbles: true}))",
                day);
    }

    /** Who types a year asks four times, and the answers come as they like. */
    @Test
    void record_whoseAnswersComeInAnotherOrder_isThatOfTheDaysInItsHeading() {
        browser.beforeEachPage(HOLD);
        browser.go(server.url("/site-care/site-1"));
        browser.find("[data-care=cleaned]");
        browser.run("window.hold = true");

        chooseFirstDay("2020-01-01");
        chooseFirstDay("2099-01-01");
        browser.until("two questions", b -> Boolean.TRUE.equals(b.run("return window.held.length === 2")));
        assertThat(browser.texts(".summary").get(0))
                .as("what is shown is still that of all days")
                .doesNotContain("From ");
        assertThat(saved()).hasSize(2);

        browser.run("window.held[1].go()");
        browser.until("of the newest", b -> b.texts(".summary").get(0).contains("From Jan 1, 2099 on."));
        assertThat(browser.all("[data-care]")).as("nothing then").isEmpty();

        browser.runAsync("const done = arguments[0]; window.held[0].go(); setTimeout(done, 1500)");
        assertThat(browser.texts(".summary").get(0)).contains("From Jan 1, 2099 on.");
        assertThat(browser.all("[data-care]"))
                .as("a late answer is of other days")
                .isEmpty();

        chooseFirstDay("2020-01-01");
        browser.until("a third question", b -> Boolean.TRUE.equals(b.run("return window.held.length === 3")));
        browser.run("window.held[2].fail()");
        browser.until("says why", b -> b.texts("[role=alert]").toString().contains("the disk is full"));
        assertThat(browser.texts(".summary").get(0))
                .as("its lines are under their own days")
                .contains("From Jan 1, 2099 on.");
    }

    /** Who cleans all of a site's machines says so once. */
    @Test
    void record_ofASiteThatWasCleanedAsAWhole_saysSo() {
        browser.go(server.url("/site-care/site-1"));
        browser.find("[data-care=cleaned]");
        browser.runAsync("const done = arguments[0];"
                + "const module = performance.getEntriesByType('resource').map(e => e.name).find(n => n.endsWith('/http.js'));"
                + "import(module).then((http) => http.change('sites/site-1/events',"
                + " http.post({event: 'cleaned', by: 'Lin', job: 'J-9'}))).then(() => done(), (e) => done(String(e)))");

        browser.go(server.url("/site-care/site-1"));
        browser.until("both", b -> b.all("[data-care=cleaned]").size() == 2);
        assertThat(browser.texts("[data-care=cleaned]").get(0)).contains("Whole site", "Lin", "J-9");
        assertThat(browser.texts("[data-without]").get(0))
                .contains("Beside what was done to the whole site, nothing was reported at this site of 3 machines");
        assertThat(saved()).hasSize(3).anyMatch(line -> line.contains(",,site-1,cleaned,,Lin,J-9,"));
        assertThat(browser.violations()).isEmpty();
    }

    @Test
    void record_ofADayThatIsNone_isThatOfAllDays() {
        browser.go(server.url("/site-care/site-1?from=abc&to=2020-13-45"));

        browser.find("[data-care=cleaned]");
        assertThat(browser.texts(".summary").get(0)).doesNotContain("From ", "Until ");
    }

    private static List<String> saved() {
        return ((String) browser.runAsync("const done = arguments[0];"
                        + "fetch(document.querySelector('a[download]').href).then(a => a.text()).then(done)"))
                .lines()
                .toList();
    }
}
