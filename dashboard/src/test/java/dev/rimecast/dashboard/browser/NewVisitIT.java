package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits.Filter;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/** A manager on the phone with a site makes a visit by hand. */
class NewVisitIT extends Bench {
    private final LocalDate day = LocalDate.now(ZoneOffset.UTC).plusDays(3);

    @BeforeEach
    void manager() {
        browser.complaints(); // of the test before
        server.account("Mara", Role.MANAGER, SiteScope.EVERY);
        browser.forgetCookies();
        browser.go(server.url("/sign-in"));
        press("Enter as Mara");
        browser.until("Mara", b -> b.texts(".who-am-i a").equals(List.of("Mara")));
        browser.go(server.url("/visits?site=site-1"));
        browser.until("the plan", b -> !b.all("[data-new-visit]").isEmpty());
    }

    private static String told(String css) {
        return String.join(" ", browser.texts(css));
    }

    private List<VisitView> byHand() {
        return server.visits().list(SiteScope.EVERY, Filter.OPEN).stream()
                .filter(visit -> visit.request().isPresent())
                .toList();
    }

    private static void set(String name, String value) {
        browser.run(
                "const field = document.querySelector(`dialog [name=${arguments[0]}]`); field.focus();"
                        + "field.value = arguments[1]; field.dispatchEvent(new Event('change', {bubbles: true}))",
                name,
                value);
    }

    private VisitView makeByKeyboard() {
        browser.find("[data-new-visit]").sendKeys(Keys.ENTER);
        browser.until("what it means is told", b -> told("dialog .effect").contains("oes along"));
        WebElement machine = browser.find("dialog [name=machines][value=ice-0003]");
        machine.sendKeys(Keys.SPACE);
        browser.find("dialog [name=reason]").sendKeys("Little ice in the evening.");
        set("day", day.toString());
        set("from", "09:30");
        set("to", "11:00");
        set("engineer", "Samir");
        browser.find("dialog [name=job]").sendKeys("J-7");
        browser.until("what goes along is told", b -> told("dialog .effect").contains("ice-0003"));
        assertThat(browser.violations()).isEmpty();
        browser.find("dialog button.primary").sendKeys(Keys.ENTER);
        browser.until("it is made", b -> byHand().size() == 1 && b.all("dialog").isEmpty());
        return byHand().get(0);
    }

    @Test
    void manager_makesAVisitByKeyboard_whichIsInTheListOnTheSheetAndCanBeCancelled() {
        VisitView made = makeByKeyboard();
        String row = "[data-visit=\"" + made.id() + "\"]";

        assertThat(made.state()).isEqualTo(State.ACCEPTED);
        assertThat(made.day()).isEqualTo(day);
        assertThat(made.engineer()).isEqualTo("Samir");
        assertThat(made.request().orElseThrow().machines()).containsExactly("ice-0003");
        browser.until("it is in the list", b -> told(row).contains("Asked for Little ice in the evening. (ice-0003)"));
        assertThat(told(row)).contains("09:30", "accepted", "Job J-7").doesNotContain("Give back");

        browser.go(server.url("/visits/" + made.id()));
        browser.until("the sheet", b -> told("#asked").equals("Asked for"));
        assertThat(told(".facts")).contains("Job number", "J-7");
        assertThat(told(".visit-sheet .need")).contains("Little ice in the evening.");
        assertThat(browser.find("[data-report=ice-0003]").getDomAttribute("href"))
                .isEqualTo("/work-report/ice-0003?visit=" + made.id());
        assertThat(browser.violations()).isEmpty();

        browser.go(server.url("/visits?site=site-1"));
        browser.until("the list again", b -> told(row).contains("accepted"));
        browser.find(row + " button[aria-label^=\"Cancel visit\"]").click();
        browser.find("dialog [name=reason]").sendKeys("They mended it.");
        press("Cancel this visit");
        browser.until("it is cancelled", b -> byHand().isEmpty());
        assertThat(server.visits().one(made.id()).orElseThrow().state()).isEqualTo(State.CANCELLED);
    }

    /** The answer to the first press never comes; the second sends the same visit. */
    @Test
    void manager_whoPressesAgainAfterALostAnswer_hasOneVisit() {
        browser.run("const real = window.fetch; let lost = 0; window.fetch = async (path, init) => {"
                + " const answer = await real(path, init);"
                + " if (init?.method === 'POST' && String(path).endsWith('/visits') && lost++ === 0) throw new TypeError('lost');"
                + " return answer; }");
        browser.find("[data-new-visit]").click();
        browser.until("the form", b -> !b.all("dialog [name=reason]").isEmpty());
        browser.find("dialog [name=reason]").sendKeys("As agreed.");
        press("Make this visit");
        browser.until("it is told", b -> !told("dialog .told").isEmpty());
        assertThat(byHand()).hasSize(1);
        press("Make this visit");
        browser.until("it is over", b -> b.all("dialog").isEmpty());

        assertThat(byHand()).hasSize(1);
    }

    /** The answer for another day, or for a field that is empty, never comes: nothing of the day before is left to be read. */
    @Test
    void manager_whoChoosesAnotherDay_isNotShownWhatWasOfTheOneBefore() {
        browser.find("[data-new-visit]").click();
        browser.until("what it means is told", b -> told("dialog .effect").contains("ice-0003"));

        set("day", "");
        browser.until(
                "nothing is told without a day", b -> told("dialog .effect").isBlank());
        set("day", day.toString());
        browser.until("it is told again", b -> told("dialog .effect").contains("ice-0003"));
        browser.run("const real = window.fetch; window.fetch = (path, init) =>"
                + " String(path).includes('visit-effect') ? new Promise(() => {}) : real(path, init);");
        set("day", day.plusDays(1).toString());
        browser.until(
                "nothing is told until the answer is there",
                b -> told("dialog .effect").isBlank());
    }

    @Test
    void phone_theFormFitsAndNothingIsCutOff() {
        browser.phone();
        browser.go(server.url("/visits?site=site-1"));
        browser.until("the plan", b -> !b.all("[data-new-visit]").isEmpty());
        browser.find("[data-new-visit]").click();
        browser.until("what it means is told", b -> told("dialog .effect").contains("oes along"));

        assertThat(browser.run("const d = document.querySelector('dialog'); return d.scrollWidth <= d.clientWidth + 1"
                        + " && document.documentElement.scrollWidth <= innerWidth + 1"))
                .isEqualTo(true);
        assertThat(
                        browser.run(
                                "return [...document.querySelectorAll('dialog .choices label')].every(l => l.getBoundingClientRect().height >= 24)"))
                .as("big enough to hit (WCAG 2.2, 2.5.8)")
                .isEqualTo(true);
        assertThat(browser.violations()).isEmpty();
    }
}
