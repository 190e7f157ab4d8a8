package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.view.Visits.Outcome;
import dev.rimecast.alerts.view.Visits.Target;
import dev.rimecast.alerts.work.Deed;
import dev.rimecast.alerts.work.Done;
import dev.rimecast.alerts.work.StoredWork;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

/** Writing down work in a plant room: on a phone, with a connection that comes and goes. */
class WorkIT extends Bench {
    private static final String PHRASE = "seven herons at the quay";

    private void enterAs(String name) {
        server.account(name, Role.ENGINEER, SiteScope.EVERY);
        browser.go(server.url("/sign-in"));
        press("Enter as " + name);
        browser.until(name, b -> b.texts(".who-am-i a").toString().contains(name));
    }

    /** Opens the page as an engineer, and waits until the phone can open it alone. */
    private String opened(String name) {
        enterAs(name);
        browser.phone();
        String page = server.url("/work-report/ice-0003");
        browser.go(page);
        browser.find("[data-offline-ready=true]");
        return page;
    }

    private static void choose(String name, String value) {
        browser.find("input[name=" + name + "][value=" + value + "]").click();
    }

    private static void fill() {
        choose("done", "air-filter-washed");
        choose("done", "part-replaced");
        browser.find("input[name^=detail]").sendKeys("fan motor");
        choose("charge", "warranty");
        browser.find("input[name=job]").sendKeys("J-77");
    }

    @AfterEach
    void forget() {
        browser.run("localStorage.clear()");
    }

    @Test
    void report_writtenWithoutAConnection_isKeptThroughReloadsAndStoredOnce() {
        String page = opened("Pim");
        assertThat(browser.violations()).isEmpty();
        assertThat((Number) browser.run("return document.documentElement.scrollWidth"))
                .isEqualTo(390L);
        assertThat(browser.all("input[name=found]:checked"))
                .as("begins with the probable cause")
                .singleElement()
                .satisfies(e -> assertThat(e.getAttribute("value")).isEqualTo("airflow-restricted"));

        int port = server.fallSilent();
        browser.go(page);
        browser.find("[data-offline]");
        assertThat(browser.texts("h1")).containsExactly("Work on ice-0003");
        fill();
        browser.go(page);
        browser.until(
                "what was begun is still there",
                b -> b.all("input[name=job]").stream().anyMatch(e -> "J-77".equals(e.getAttribute("value"))));
        assertThat(browser.violations()).isEmpty();
        press("Finish");
        browser.find("[data-waiting]");
        assertThat(browser.texts("[data-waiting]").toString()).contains("kept on this phone, not sent yet");
        browser.go(page);
        browser.find("[data-waiting]");
        assertThat(browser.violations()).isEmpty();
        assertThat(server.work().all()).isEmpty();

        server.answerAgain(port);
        browser.go(page);
        browser.find("[data-sent]");
        assertThat(browser.all("[data-waiting]")).isEmpty();
        assertThat(browser.violations()).isEmpty();
        assertThat(server.work().all()).singleElement().satisfies(work -> {
            assertThat(work.machine()).isEqualTo("ice-0003");
            assertThat(work.enteredBy()).isEqualTo("Pim");
            assertThat(work.report().found().code()).isEqualTo("airflow-restricted");
            assertThat(work.report().job()).isEqualTo("J-77");
            assertThat(work.report().by()).isEqualTo("Pim");
            assertThat(work.report().done())
                    .containsExactly(
                            Done.of(Deed.AIR_FILTER_WASHED),
                            new Done(Deed.PART_REPLACED, "fan motor", Optional.empty()));
            assertThat(work.report().caseId()).isPresent();
        });
        browser.go(page);
        browser.find("[data-sent]");
        assertThat(server.work().received()).isEqualTo(1);
    }

    /** Opened once in the office, then in a plant room: the sheet, and the form to which it leads, which was never opened. */
    @Test
    void visitSheet_openedOnce_leadsToTheFormWithoutAConnection() {
        enterAs("Pim");
        browser.phone();
        VisitView visit = server.visits().list(SiteScope.EVERY, Filter.OPEN).stream()
                .filter(each -> each.needs().stream()
                        .anyMatch(planned -> planned.need().machines().contains("ice-0003")))
                .findFirst()
                .orElseThrow();
        String page = server.url("/visits/" + visit.id());
        browser.go(page);
        browser.find("[data-offline-ready=true]");
        browser.until("the plots are there", b -> !b.all(".proving canvas").isEmpty());
        List<String> checks = browser.texts(".visit-sheet .checks li");

        int port = server.fallSilent();
        browser.go(page);
        browser.find("[data-offline]");
        assertThat(browser.texts("[data-offline]").toString()).contains("No connection", "This is as it was known");
        assertThat(browser.texts("h1")).containsExactly("Visit to " + visit.siteName());
        browser.until("the plots are there, too", b -> !b.all(".proving canvas").isEmpty());
        assertThat(browser.texts(".visit-sheet .checks li")).isEqualTo(checks).isNotEmpty();
        assertThat((Number) browser.run("return document.documentElement.scrollWidth"))
                .isEqualTo(390L);
        assertThat(browser.violations()).isEmpty();

        browser.go(String.valueOf(browser.run("return document.querySelector('[data-report=ice-0003]').href")));
        browser.find("[data-offline]");
        fill();
        press("Finish");
        browser.find("[data-waiting]");
        assertThat(server.work().all()).isEmpty();

        server.answerAgain(port);
        browser.go(page);
        browser.until("sent from the sheet", b -> server.work().all().size() == 1);
        assertThat(server.work().all().get(0).report().visit()).contains(visit.id());
        browser.find("[data-offline-ready=true]");

        press("Sign out");
        browser.until("out", b -> b.run("return location.pathname").equals("/sign-in"));
        assertThat(browser.runAsync("const done = arguments[0]; caches.has('rimecast-visits').then(done)"))
                .as("nothing is left for the next one")
                .isEqualTo(false);
    }

    /** Only the list was opened in the office: whoever goes tomorrow has the sheet all the same. */
    @Test
    void visitsList_ofWhoGoesTomorrow_keepsTheSheetForAPlantRoom() {
        VisitView visit = server.visits().list(SiteScope.EVERY, Filter.OPEN).stream()
                .filter(each -> each.needs().stream()
                        .anyMatch(planned -> planned.need().machines().contains("ice-0003")))
                .findFirst()
                .orElseThrow();
        LocalDate tomorrow =
                visit.createdAt().atZone(visit.zone()).toLocalDate().plusDays(1);
        Target target = new Target(tomorrow, Optional.of("Samir"), Optional.empty());
        assertThat(server.visits().move(visit.id(), visit.sequence(), new Person("Mara"), target, "No ice there."))
                .isInstanceOf(Outcome.Done.class);
        enterAs("Samir");
        browser.go(server.url("/visits"));
        browser.find("[data-ahead]");
        String page = server.url("/visits/" + visit.id());

        int port = server.fallSilent();
        browser.go(page);
        browser.find("[data-offline]");
        browser.until("the plots are there", b -> !b.all(".proving canvas").isEmpty());
        assertThat(browser.texts("h1")).containsExactly("Visit to " + visit.siteName());
        assertThat(browser.texts(".visit-sheet .checks li")).isNotEmpty();
        server.answerAgain(port);
    }

    /** Two minutes are enough: what is thought to be wrong is chosen already, and nothing has to be typed. */
    @Test
    void report_ofWhatWasExpected_takesTwoTaps() {
        opened("Pim");
        browser.run(
                "window.taps = 0; window.typed = 0; addEventListener('pointerdown', () => { window.taps += 1; }, true);"
                        + "addEventListener('keydown', () => { window.typed += 1; }, true)");

        choose("done", "air-filter-washed");
        button("Finish").click();

        browser.find("[data-sent]");
        assertThat(browser.run("return window.taps")).isEqualTo(2L);
        assertThat(browser.run("return window.typed")).isEqualTo(0L);
        assertThat(server.work().all()).singleElement().satisfies(work -> {
            assertThat(work.report().found().code()).isEqualTo("airflow-restricted");
            assertThat(work.report().by()).isEqualTo("Pim");
            assertThat(work.report().caseId()).isPresent();
        });
    }

    @Test
    void report_ofWorkThatIsBeingProved_showsHowFarItHasHeld() {
        opened("Pim");

        assertThat(browser.texts("[data-proof=held-so-far]").toString())
                .contains("0 °C after 3.1 min, expected 2.9 ± 0.4")
                .contains("Held so far; one more cycle makes it certain");
    }

    @Test
    void report_whoseAnswerWasLost_isSentAgainAndStoredOnce() {
        String page = opened("Pim");
        fill();
        browser.run(
                "window.kept = null; addEventListener('work-kept', () => { window.kept ??= localStorage.getItem('rimecast.work.waiting'); })");
        press("Finish");
        browser.find("[data-sent]");
        browser.run("localStorage.setItem('rimecast.work.waiting', window.kept)");

        browser.go(page);
        browser.until(
                "sent again",
                b -> server.work().received() == 2 && b.all("[data-waiting]").isEmpty());

        assertThat(server.work().all()).hasSize(1);
        assertThat(browser.texts("[data-sent]")).hasSize(1);
    }

    @Test
    void report_finishedAfterTheSessionEnded_isSentOnceSignedInAgain() {
        server.close();
        server = FakeServer.guarded(FakeFleets::small);
        browser.go(server.url("/set-up#" + server.people().links().setUp().orElseThrow()));
        browser.find("input[name=name]").sendKeys("Ada");
        browser.find("input[name=next]").sendKeys(PHRASE);
        browser.find("input[name=again]").sendKeys(PHRASE);
        browser.find("form .primary").click();
        browser.until("in", b -> !b.all(".who-am-i a").isEmpty());
        browser.go(server.url("/work-report/ice-0003"));
        browser.find("[data-offline-ready=true]");
        browser.forgetCookies();

        fill();
        press("Finish");
        browser.until(
                "led to the sign-in page",
                b -> b.run("return location.pathname").equals("/sign-in"));
        assertThat(server.work().received()).isZero();
        browser.find("input[name=name]").sendKeys("Ada");
        browser.find("input[name=password]").sendKeys(PHRASE);
        browser.find("form .primary").click();

        browser.find("[data-sent]");
        assertThat(server.work().all()).extracting(StoredWork::enteredBy).containsExactly("Ada");
    }

    @Test
    void report_ofSomebodyElseOnTheSamePhone_waitsForThem() {
        String page = opened("Pim");
        int port = server.fallSilent();
        browser.go(page);
        fill();
        press("Finish");
        browser.find("[data-waiting]");
        server.answerAgain(port);

        enterAs("Kim");
        assertThat(browser.texts(".strip").toString()).contains("1 report of work is kept on this phone");
        browser.go(page);
        browser.until(
                "says whose it is",
                b -> b.texts("[data-waiting]").toString().contains("sent when Pim is signed in here"));
        assertThat(server.work().received()).isZero();

        enterAs("Pim");
        browser.until("sent from any page", b -> server.work().all().size() == 1);
        assertThat(server.work().all()).extracting(StoredWork::enteredBy).containsExactly("Pim");
    }

    @Test
    void page_ofAMachineThatIsNot_saysSoAndAsksNothing() {
        enterAs("Pim");
        browser.go(server.url("/work-report/ice-9999"));
        browser.until("says so", b -> b.texts(".work [role=alert]").toString().contains("No machine ice-9999"));
        assertThat(browser.all("form")).isEmpty();
        assertThat(browser.all("[data-offline]")).isEmpty();
        assertThat(browser.violations()).isEmpty();
    }

    /** What was looked at, on a phone that is alone; sent again where the answer was lost. */
    @Test
    void commissioning_writtenWithoutAConnection_isKeptThroughReloadsAndStoredOnce() {
        enterAs("Pim");
        browser.phone();
        String page = server.url("/commissioning/ice-0003");
        browser.go(page);
        browser.find("[data-item=own-supply]");
        browser.find("[data-offline-ready=true]");
        assertThat(browser.violations()).isEmpty();
        assertThat((Number) browser.run("return document.documentElement.scrollWidth"))
                .isEqualTo(390L);

        int port = server.fallSilent();
        browser.go(page);
        browser.find("[data-offline]");
        assertThat(browser.texts("h1")).containsExactly("Commissioning of ice-0003");
        browser.run("document.querySelectorAll('input[value=ok]').forEach(e => e.click())");
        browser.run("document.querySelector('input[name=isolator][value=not-ok]').click()");
        press("Store the record");
        browser.until(
                "asks why", b -> b.texts(".commissioning .told").toString().contains("Say why: Isolator"));
        browser.find("input[name=note-isolator]").sendKeys("behind the machine");
        browser.go(page);
        browser.until(
                "what was begun is still there",
                b -> b.all("input[name=note-isolator]").stream()
                        .anyMatch(e -> "behind the machine".equals(e.getAttribute("value"))));
        press("Store the record");
        browser.find("[data-waiting]");
        assertThat(browser.texts("[data-waiting]").toString())
                .contains("Commissioning of ice-0003", "kept on this phone, not sent yet");
        browser.go(page);
        browser.find("[data-waiting]");
        assertThat(browser.all("[data-record]")).as("not stored").isEmpty();
        assertThat(browser.violations()).isEmpty();
        String kept = (String) browser.run("return localStorage.getItem('rimecast.work.waiting')");

        server.answerAgain(port);
        browser.go(page);
        browser.find("[data-sent]");
        browser.find("[data-record]");
        assertThat(browser.texts("[data-record] h2").toString()).contains("something is not ok");
        assertThat(browser.texts("[data-record] table").toString())
                .contains("not ok")
                .contains("behind the machine");
        browser.printed();
        assertThat(
                        browser.run(
                                "const on = (css) => [...document.querySelectorAll(css)].some(e => e.checkVisibility());"
                                        + "return [on('.record h2'), on('.record td'), on('.record .sign'), on('details.new'), on('.outbox')].join()"))
                .as("a record to be signed, and nothing else")
                .isEqualTo("true,true,true,false,false");
        browser.media("prefers-color-scheme", "light");
        assertThat(browser.all("[data-waiting]")).isEmpty();
        assertThat(browser.violations()).isEmpty();

        browser.run("localStorage.setItem('rimecast.work.waiting', arguments[0])", kept);
        browser.go(page);
        browser.until("sent again", b -> "[]".equals(b.run("return localStorage.getItem('rimecast.work.waiting')")));
        browser.go(page);
        browser.find("[data-record]");
        assertThat(browser.all("[data-record]")).as("stored once").hasSize(1);
    }

    @Test
    void refrigerant_asksForGramsAndSaysWhoMay() {
        opened("Pim");
        choose("done", "refrigerant-added");
        browser.find("[data-certified]");
        assertThat(browser.texts("[data-certified]").toString()).contains("Only certified persons");
        press("Finish");
        browser.until("told", b -> b.texts(".work > [role=alert]").toString().contains("whole grams"));
        assertThat(browser.violations()).isEmpty();
        assertThat(server.work().received()).isZero();
    }
}
