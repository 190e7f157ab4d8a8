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

    private static List<String> saved() {
        return ((String) browser.runAsync("const done = arguments[0];"
                        + "fetch(document.querySelector('a[download]').href).then(a => a.text()).then(done)"))
                .lines()
                .toList();
    }
}
