package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitRequest;
import dev.rimecast.alerts.view.Visits.Made;
import dev.rimecast.alerts.view.Visits.NewVisit;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.UUID;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;

/** The number under which work is booked: said once, on the phone or with the visit, and not typed again in a plant room. */
class JobNumberIT extends Bench {
    private static final String MACHINE = "ice-0003";

    /** Visits alone don't come, where the test says so. */
    private static final String NO_VISITS = """
            const ask = window.fetch;
            window.fetch = (address, options) => String(address).includes('/visits/') && sessionStorage.getItem('no-visits')
              ? Promise.reject(new TypeError('Failed to fetch')) : ask(address, options);""";

    @BeforeAll
    static void noVisits() {
        browser.beforeEachPage(NO_VISITS);
    }

    private void enter() {
        server.account("Pim", Role.ENGINEER, SiteScope.EVERY);
        browser.go(server.url("/sign-in"));
        press("Enter as Pim");
        browser.until("Pim", b -> b.texts(".who-am-i a").toString().contains("Pim"));
        browser.phone();
    }

    @AfterEach
    void forget() {
        browser.run("localStorage.clear(); sessionStorage.clear()");
    }

    private UUID visitByHand(String job) {
        return visitByHand(job, 1);
    }

    private UUID visitByHand(String job, int days) {
        NewVisit wanted = new NewVisit(
                UUID.randomUUID(),
                server.fleet().machine(MACHINE).orElseThrow().site().id(),
                LocalDate.now(ZoneOffset.UTC).plusDays(days),
                570,
                "Samir",
                new VisitRequest(List.of(MACHINE), "As agreed.", job, 60));
        return ((Made.Added) server.visits().make(wanted, new Person("Mara")))
                .visit()
                .id();
    }

    private static String job() {
        return String.valueOf(browser.find("input[name=job]").getDomProperty("value"));
    }

    private void finish() {
        browser.find("input[name=done][value=air-filter-washed]").click();
        press("Finish");
    }

    private List<String> jobs() {
        return server.work().all().stream().map(work -> work.report().job()).toList();
    }

    @Test
    void visitByHand_itsNumberIsInTheForm_alsoWithoutAConnection() {
        enter();
        UUID visit = visitByHand("J-12");
        browser.go(server.url("/visits/" + visit));
        browser.find("[data-offline-ready=true]");
        String form =
                String.valueOf(browser.run("return document.querySelector('[data-report=" + MACHINE + "]').href"));

        int port = server.fallSilent();
        browser.go(form);
        browser.find("[data-offline]");
        assertThat(job()).isEqualTo("J-12");
        finish();
        browser.find("[data-waiting]");
        server.answerAgain(port);
        browser.go(form);
        browser.find("[data-sent]");

        assertThat(jobs()).containsExactly("J-12");
        browser.go(server.url("/work-report/" + MACHINE));
        browser.find("[data-offline-ready=true]");
        assertThat(job()).as("other work is of another number").isEmpty();
    }

    @Test
    void visitByHand_numberThatSomebodyHasTakenOut_staysOut() {
        enter();
        browser.go(server.url("/work-report/" + MACHINE + "?visit=" + visitByHand("J-12")));
        browser.until("the number", b -> job().equals("J-12"));

        browser.find("input[name=job]").sendKeys(Keys.chord(Keys.CONTROL, "a"), Keys.DELETE);
        browser.run("dispatchEvent(new Event('online'))");
        browser.run("location.reload()");
        browser.find("[data-offline-ready=true]");
        assertThat(job()).isEmpty();
        finish();
        browser.find("[data-sent]");

        assertThat(jobs()).containsExactly("");
    }

    private void open(UUID visit) {
        browser.go(server.url("/work-report/" + MACHINE + "?visit=" + visit));
        browser.find("[data-offline-ready=true]");
    }

    @Test
    void numberOfOneVisit_isNotThatOfAnother_thoughTheDraftWasBegunThere() {
        enter();
        UUID first = visitByHand("J-12", 1);
        UUID second = visitByHand("J-13", 2);
        UUID withoutANumber = visitByHand("", 3);
        open(first);
        browser.until("the number", b -> job().equals("J-12"));
        browser.find("input[name=done][value=air-filter-washed]").click();

        open(withoutANumber);
        browser.until("no number", b -> job().isEmpty());
        open(second);
        browser.until("its own", b -> job().equals("J-13"));
        assertThat(browser.find("input[name=done][value=air-filter-washed]").isSelected())
                .as("the draft is kept")
                .isTrue();
        press("Finish");
        browser.find("[data-sent]");

        assertThat(jobs()).containsExactly("J-13");
    }

    @Test
    void numberThatSomebodyHasTyped_staysForEveryVisit() {
        enter();
        open(visitByHand("J-12", 1));
        browser.until("the number", b -> job().equals("J-12"));
        browser.find("input[name=job]").sendKeys("-b");

        open(visitByHand("J-13", 2));
        loadAgain();

        assertThat(job()).isEqualTo("J-12-b");
    }

    @Test
    void visitThatCannotBeLookedUp_leavesTheNumberThatIsKnown() {
        enter();
        UUID visit = visitByHand("J-12");
        open(visit);
        browser.until("the number", b -> job().equals("J-12"));

        browser.run("sessionStorage.setItem('no-visits', 'yes')");
        loadAgain();

        assertThat(job()).isEqualTo("J-12");
        open(visit);
        assertThat(job()).isEqualTo("J-12");
    }

    /** Until what this phone knows of the machine is newer than before. */
    private static void loadAgain() {
        Object before = sheetOf();
        browser.run("dispatchEvent(new Event('online'))");
        browser.until("a newer sheet", b -> !sheetOf().equals(before));
    }

    private static Object sheetOf() {
        return browser.run(
                "return String(JSON.parse(localStorage.getItem('rimecast.work.sheet.' + arguments[0])).at)", MACHINE);
    }

    /** A kitchen has called, and the office has booked it under 4711. */
    @Test
    void caseWithACall_itsNumberIsInTheForm() {
        enter();
        AlertView called = server.fleet().alerts(AlertFilter.OPEN, 500).stream()
                .filter(alert -> alert.finding().site().equals("site-5")
                        && alert.finding().machine().isPresent()
                        && alert.caseId().isPresent())
                .findFirst()
                .orElseThrow();

        browser.go(server.url("/work-report/" + called.finding().machine().orElseThrow()));

        browser.until("the number", b -> job().equals("4711"));
    }
}
