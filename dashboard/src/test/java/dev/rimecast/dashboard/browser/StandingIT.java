package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.alerts.view.SiteScope;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/**
 * How alerts come by the states of ISA-18.2 / IEC 62682 that a person gives them, by the pages: out of service with who
 * permits it, and latched until it is released; paused and seen are in {@link JobsIT}. What a rule keeps from counting
 * says so there, too. And what the site says, and notices that were given up.
 */
class StandingIT extends Bench {
    /** Questions come when the test says so. */
    private static final String WEAK_LINE = """
            const ask = window.fetch;
            window.fetch = async (address, options) => {
              if (String(address).endsWith('/questions') && sessionStorage.getItem('weak-line')) await new Promise((come) => { window.questionsCome = come; });
              return ask(address, options);
            };""";

    @BeforeAll
    static void weakLine() {
        browser.beforeEachPage(WEAK_LINE);
    }

    /** Somebody who may permit that a machine is out of service; a browser by itself comes in as an operator. */
    @BeforeEach
    void enter() {
        browser.forgetCookies();
        browser.complaints();
        server.account("Maren", Role.MANAGER, SiteScope.EVERY);
        browser.go(server.url("/sign-in"));
        press("Enter as Maren");
        browser.until("Maren", b -> b.texts(".who-am-i a").equals(List.of("Maren")));
    }

    @AfterEach
    void leave() {
        browser.run("sessionStorage.clear()");
        browser.forgetCookies();
    }

    private AlertState stateOf(AlertView alert) {
        return server.fleet().alert(alert.finding().id()).orElseThrow().state();
    }

    private void stateSaid(String words) {
        browser.until("it says " + words, b -> b.texts(".facts").toString().contains(words));
    }

    @Test
    void alert_takenOutOfService_doesNotCountUntilItIsPutBack() {
        AlertView alert = server.fleet().leading("ice-0011");
        browser.go(server.url("/alerts/" + alert.finding().id()));
        press("Take out of service");
        browser.find("dialog textarea").sendKeys("the bar is being rebuilt");
        browser.find("dialog .primary").click();
        assertThat(stateOf(alert)).as("nobody permits it yet").isEqualTo(AlertState.UNACKNOWLEDGED);
        browser.find("dialog [name=permittedBy]").sendKeys("Ines");
        browser.find("dialog .primary").click();

        stateSaid("out of service");
        assertThat(stateOf(alert)).isEqualTo(AlertState.OUT_OF_SERVICE);
        assertThat(browser.texts(".facts").toString()).contains("the bar is being rebuilt", "Ines");
        assertThat(browser.violations()).isEmpty();
        press("Put back into service");
        browser.find("dialog textarea").sendKeys("rebuilt");
        browser.find("dialog .primary").click();
        stateSaid("new, ");
        assertThat(stateOf(alert)).isEqualTo(AlertState.UNACKNOWLEDGED);
    }

    @Test
    void machine_takenOutOfService_holdsAllOfItsAlerts_untilItIsPutBack() {
        AlertView alert = server.fleet().leading("ice-0003");
        browser.go(server.url("/machines/ice-0003"));
        press("Take out of service");
        browser.find("dialog textarea").sendKeys("stands in the yard");
        browser.find("dialog [name=permittedBy]").sendKeys("Ines");
        browser.find("dialog .primary").click();

        browser.until("it says so", b -> b.texts(".notice").toString().contains("stands in the yard"));
        assertThat(stateOf(alert)).isEqualTo(AlertState.OUT_OF_SERVICE);
        press("Put back into service");
        browser.find("dialog textarea").sendKeys("back at the bar");
        browser.find("dialog .primary").click();
        browser.until(
                "it says nothing more", b -> !b.texts(".notice").toString().contains("stands in the yard"));
        assertThat(stateOf(alert)).isEqualTo(AlertState.UNACKNOWLEDGED);
    }

    @Test
    void alert_thatIsOverAndLatched_isSeenAndReleased() {
        AlertView alert = server.fleet().alerts(AlertFilter.EVERY, Integer.MAX_VALUE).stream()
                .filter(each -> each.state() == AlertState.LATCHED_UNACKNOWLEDGED)
                .findFirst()
                .orElseThrow();
        browser.go(server.url("/alerts/" + alert.finding().id()));
        stateSaid("over, not yet seen, to be released");
        press("Mark as seen");
        browser.find("dialog .primary").click();
        stateSaid("over and seen, to be released");
        assertThat(stateOf(alert)).isEqualTo(AlertState.LATCHED_ACKNOWLEDGED);
        press("Release");
        browser.find("dialog textarea").sendKeys("looked at the condenser");
        browser.find("dialog .primary").click();

        stateSaid("finished");
        assertThat(stateOf(alert)).isEqualTo(AlertState.NORMAL);
        assertThat(browser.texts(".history").toString()).contains("released it", "looked at the condenser");
    }

    @Test
    void alert_suppressedByDesign_saysWhatKeepsItFromCounting() {
        AlertView alert = server.fleet().alerts(AlertFilter.OPEN, Integer.MAX_VALUE).stream()
                .filter(each -> each.state() == AlertState.SUPPRESSED_BY_DESIGN)
                .findFirst()
                .orElseThrow();
        browser.go(server.url("/alerts/" + alert.finding().id()));

        stateSaid("not counted: " + alert.hold().map(Hold::why).orElseThrow());
        assertThat(browser.texts(".buttons button")).doesNotContain("Pause", "Mark as seen");
    }

    @Test
    void report_ofWhatTheSiteSays_asksWhichQuestion_andIsListedInWords() {
        browser.go(server.url("/machines/ice-0007"));
        press("Report what happened");
        browser.find("dialog [name=event]");
        choose("event", "site-answer");
        browser.until(
                "it asks which question",
                b -> b.all("dialog [name=question] option").size() > 10);
        assertThat(browser.all("dialog [name=detail]"))
                .as("in words, as long as none is chosen")
                .hasSize(1);
        choose("question", "things-around");
        browser.until(
                "it asks for the answer",
                b -> b.all("dialog [name=answer] option").size() > 2);
        browser.run("document.querySelector('dialog [name=answer]').selectedIndex = 2");
        choose("question", "air-filter");
        browser.until(
                "it asks for the answer",
                b -> b.texts("dialog [name=answer] option").contains("it is clean"));
        assertThat(browser.find("dialog [name=answer]").getDomProperty("value"))
                .as("an answer to another question is none to this one")
                .isEmpty();
        assertThat(browser.texts("dialog .hint").toString()).contains("air filter that slides out");
        assertThat(browser.violations()).isEmpty();
        browser.run("document.querySelector('dialog [name=answer]').value = 'clean'");
        browser.find("dialog [name=job]").sendKeys("J-12");
        browser.find("dialog button.primary").click();

        browser.until(
                "listed in words",
                b -> b.texts(".history li").stream()
                        .anyMatch(text ->
                                text.startsWith("The site says: Air filter: it is clean") && text.contains("J-12")));
    }

    @Test
    void questionsThatComeLate_leaveWhatWasWritten() {
        reportOnAWeakLine("ice-0007");
        browser.find("dialog [name=detail]").sendKeys("the cook has unplugged it");

        questionsCome();
        browser.until("they are there", b -> !b.all("dialog [name=question]").isEmpty());

        assertThat(browser.find("dialog [name=detail]").getDomProperty("value")).isEqualTo("the cook has unplugged it");
    }

    @Test
    void questionsThatComeLate_leaveAnotherDialogAlone() {
        reportOnAWeakLine("ice-0003");
        press("Cancel");
        browser.until("closed", b -> b.all("dialog").isEmpty());
        press("Take out of service");
        browser.find("dialog [name=permittedBy]");

        questionsCome();

        assertThat(browser.all("dialog [name=permittedBy]")).hasSize(1);
        assertThat(browser.all("dialog [name=event]")).isEmpty();
        press("Cancel");
        press("Report what happened");
        browser.find("dialog [name=event]");
        choose("event", "site-answer");
        browser.find("dialog [name=question]");
    }

    /** Asked in words, as long as the questions do not come. */
    private void reportOnAWeakLine(String machine) {
        browser.run("sessionStorage.setItem('weak-line', 'yes')");
        browser.go(server.url("/machines/" + machine));
        press("Report what happened");
        browser.find("dialog [name=event]");
        choose("event", "site-answer");
        browser.find("dialog input[name=detail]");
        browser.until("asked for", b -> Boolean.TRUE.equals(b.run("return Boolean(window.questionsCome)")));
    }

    private static void questionsCome() {
        browser.runAsync("const done = arguments[0]; window.questionsCome(); setTimeout(done, 1000)");
    }

    private static void choose(String field, String value) {
        browser.run(
                "const f = document.querySelector('dialog [name=' + arguments[0] + ']'); f.value = arguments[1];"
                        + "f.dispatchEvent(new Event('change', { bubbles: true }))",
                field,
                value);
    }

    @Test
    void notice_thatWasGivenUp_isSentAgain() {
        browser.go(server.url("/notices"));
        browser.until("one was given up", b -> b.texts(".row .state").contains("given up"));
        assertThat(browser.texts("[data-failed] b"))
                .as("who was not told stands first")
                .containsExactly("One notice was given up: its receiver was not told.");
        press("Show them");
        browser.until("those alone", b -> !b.texts(".row .state").contains("sent"));
        assertThat(browser.run("return location.search")).isEqualTo("?show=open");
        press("Send again");
        browser.find("dialog .primary").click();

        browser.until("it waits", b -> !b.texts(".row .state").contains("given up"));
        assertThat(browser.texts(".row .state")).containsOnly("waits");
        assertThat(browser.all(".row .who button[aria-label^='Send again']")).isEmpty();
        assertThat(browser.all("[data-failed]")).isEmpty();
    }

    @Test
    void receiver_sentATest_isInTheLog() {
        browser.go(server.url("/notices"));
        browser.until("there are receivers", b -> !b.all(".receiver button").isEmpty());
        assertThat(browser.all("[data-kind=test]")).isEmpty();
        browser.find(".receiver button").click();
        browser.find("dialog .primary").click();

        browser.until("it is in the log", b -> b.all("[data-kind=test]").size() == 1);
        assertThat(browser.texts("[data-kind=test]").toString()).contains("test", "desk");
        assertThat(browser.violations()).isEmpty();
    }
}
