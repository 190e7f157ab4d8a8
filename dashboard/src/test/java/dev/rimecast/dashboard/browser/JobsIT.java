package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeServer;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/** What people come to the pages for, done in a browser. */
class JobsIT extends Bench {
    @Test
    void machine_callReported_isListedAndSaidAloud() {
        browser.go(server.url("/machines/ice-0007"));
        button("Report what happened").click();
        browser.find("dialog [name=event]");
        assertThat(browser.texts("dialog [name=event] option")).contains("Call", "Part replaced", "Closed from now on");
        browser.run("const d = document.querySelector('dialog [name=detail]'); d.value = 'water-on-floor'");
        browser.find("dialog [name=by]").sendKeys("The bar");
        browser.find("dialog [name=job]").sendKeys("J-77");

        browser.find("dialog button.primary").click();

        browser.until(
                "listed",
                b -> b.texts(".history li").stream().anyMatch(text -> text.startsWith("Call: water on the floor")));
        assertThat(browser.texts(".history li").get(0)).contains("The bar", "job J-77");
        assertThat(browser.texts("[role=status] .well")).contains("Reported: Call.");
    }

    @Test
    void report_ofAnotherKind_asksForWhatBelongsToIt() {
        browser.go(server.url("/machines/ice-0007"));
        button("Report what happened").click();
        browser.find("dialog [name=event]");

        choose("event", "part-replaced");
        browser.until(
                "asks which part", b -> b.texts("dialog label").stream().anyMatch(l -> l.startsWith("Which part")));
        choose("event", "visit");
        browser.until(
                "asks for the cause", b -> b.texts("dialog label").stream().anyMatch(l -> l.startsWith("Cause found")));
        browser.run("document.querySelector('dialog [name=time]').value = '2020-01-01T10:00'");
        browser.find("dialog button.primary").click();

        browser.until(
                "is told why not", b -> b.texts("dialog .told").stream().anyMatch(text -> text.contains("60 days")));
    }

    @Test
    void events_ofASiteReportedForOneMachine_areOnItsPage() {
        browser.go(server.url("/events?site=site-1"));
        browser.until("may report", b -> !b.all("button.primary").isEmpty());
        button("Report what happened").click();
        browser.find("dialog [name=machine]");
        assertThat(browser.texts("dialog [name=event] option"))
                .doesNotContain("Cleaned")
                .contains("Closed from now on");
        choose("machine", "ice-0003");
        browser.until(
                "may be cleaned", b -> b.texts("dialog [name=event] option").contains("Cleaned"));
        choose("event", "cleaned");
        browser.find("dialog button.primary").click();

        browser.until("listed", b -> b.texts(".history li").get(0).startsWith("Cleaned"));
        assertThat(browser.texts(".history li").get(0)).contains("ice-0003");
    }

    private static void choose(String field, String value) {
        browser.run("const s = document.querySelector('dialog [name=" + field + "]'); s.value = '" + value
                + "'; s.dispatchEvent(new Event('change', {bubbles: true}))");
    }

    @Test
    void alert_questionAnswered_movesTheOddsAndAsksTheNext() {
        String id = server.fleet().leading("ice-0003").finding().id().toString();
        browser.go(server.url("/alerts/" + id));
        browser.find("[data-question=air-filter]");
        assertThat(browser.texts(".answers .change"))
                .as("what each answer would change")
                .hasSize(4)
                .anyMatch(text -> text.contains("about 55 %")
                        && text.toLowerCase(java.util.Locale.ROOT).contains("fan"));

        browser.find("[data-answer=clean]").click();

        browser.find("[data-question=fan-turns]");
        assertThat(browser.texts("[data-answered=air-filter]").toString())
                .contains("it is clean")
                .contains(FakeServer.OPERATOR);
        assertThat(browser.texts(".evidence .against").toString()).contains("Air filter: it is clean");
        assertThat(browser.texts(".diagnosis .heading").get(0).toLowerCase(java.util.Locale.ROOT))
                .contains("fan");
        browser.find("[data-answer=cannot-tell]").click();
        browser.until("nothing is left to ask", b -> b.all("[data-question]").isEmpty());
        assertThat(browser.violations()).isEmpty();
    }

    @Test
    void alert_markedAsSeen_isAcknowledgedWithNoteAndAccount() {
        AlertView alert = server.fleet().leading("ice-0003");
        browser.go(server.url("/alerts/" + alert.finding().id()));
        browser.find(".buttons .primary").click();
        browser.find("dialog textarea").sendKeys("asked the site to wash the filter");
        browser.find("dialog .primary").click();
        browser.until("shown as seen", b -> b.texts(".facts").toString().contains("seen by Noor"));

        AlertView seen = server.fleet().leading("ice-0003");
        assertThat(seen.state()).isEqualTo(AlertState.ACKNOWLEDGED);
        assertThat(seen.audit()).last().satisfies(line -> {
            assertThat(line.who()).isEqualTo("Noor");
            assertThat(line.why()).isEqualTo("asked the site to wash the filter");
        });
    }

    @Test
    void alert_givenToSomebodyWithANote_isTheirsOnEveryList() {
        server.account("Kim", Role.ENGINEER, SiteScope.EVERY);
        server.account("Looks only", Role.VIEWER, SiteScope.EVERY);
        AlertView alert = server.fleet().leading("ice-0003");
        browser.go(server.url("/alerts/" + alert.finding().id()));
        press("Give to somebody");
        browser.find("dialog select");
        assertThat(browser.texts("dialog option")).containsExactly("me (Noor)", "Kim");
        assertThat(browser.violations()).isEmpty();
        browser.run("document.querySelector('dialog select').value = 'Kim'");
        browser.find("dialog textarea").sendKeys("has the probe in the van");
        browser.find("dialog .primary").click();
        browser.until("Kim has it", b -> b.texts(".facts").toString().contains("Kim"));

        press("Write a note");
        browser.find("dialog textarea").sendKeys("The key is at the bar.");
        browser.find("dialog .primary").click();
        browser.until(
                "the note is in the history",
                b -> b.texts(".history").toString().contains("The key is at the bar."));

        assertThat(browser.texts(".history").toString()).contains("gave it", "to Kim: has the probe in the van");
        assertThat(browser.violations()).isEmpty();
        browser.go(server.url("/"));
        browser.find("[data-machine=ice-0003]");
        assertThat(browser.texts("[data-machine=ice-0003] .who").toString()).contains("Kim");
        assertThat(server.fleet().leading("ice-0003").state())
                .as("nobody has said that it was seen")
                .isEqualTo(AlertState.UNACKNOWLEDGED);
    }

    @Test
    void alert_pausedAndCountedAgain_saysSo() {
        AlertView alert = server.fleet().leading("ice-0011");
        browser.go(server.url("/alerts/" + alert.finding().id()));
        browser.find(".buttons .primary");
        browser.run("[...document.querySelectorAll('.buttons button')].find(b => b.textContent === 'Pause').click()");
        browser.find("dialog textarea").sendKeys("the part comes on Thursday");
        browser.find("dialog .primary").click();
        browser.until("shown as paused", b -> b.texts(".facts").toString().contains("paused until"));
        assertThat(server.fleet().leading("ice-0011").state()).isEqualTo(AlertState.SHELVED);

        browser.find(".buttons .primary").click();
        browser.find("dialog textarea").sendKeys("it came early");
        browser.find("dialog .primary").click();
        browser.until("new again", b -> b.texts(".facts").toString().contains("new"));
        assertThat(server.fleet().leading("ice-0011").state()).isEqualTo(AlertState.UNACKNOWLEDGED);
    }

    @Test
    void alert_somebodyElseWasFaster_isToldByWhom() {
        AlertView alert = server.fleet().leading("ice-0011");
        browser.go(server.url("/alerts"));
        browser.find("[data-alert='" + alert.finding().id() + "'] button").click();
        browser.find("dialog textarea");
        server.fleet().acknowledge(alert.finding().id(), alert.version(), "Ana", "mine");
        browser.find("dialog .primary").click();

        browser.until(
                "told who was faster", b -> b.texts("dialog .told").toString().contains("Ana"));
        assertThat(server.fleet().leading("ice-0011").acknowledgedBy()).hasValue("Ana");
    }

    /** Two at once, by keys alone; with one of them somebody is faster, and the other is marked all the same. */
    @Test
    void alerts_chosenByKeyboard_areMarkedTogether_andWhoWasFasterIsNamed() {
        AlertView first = server.fleet().leading("ice-0003");
        AlertView second = server.fleet().leading("ice-0011");
        browser.go(server.url("/alerts"));
        box(first).sendKeys(Keys.SPACE);
        box(second).sendKeys(Keys.SPACE);
        browser.until("both are chosen", b -> b.texts(".chosen").toString().contains("2 chosen"));
        assertThat(browser.violations()).isEmpty();
        box(second).sendKeys(Keys.ENTER);
        browser.find("dialog textarea").sendKeys("both go with the visit");
        server.fleet().acknowledge(second.finding().id(), second.version(), "Ana", "mine");
        browser.find("dialog .primary").click();

        browser.until(
                "told who was faster", b -> b.texts("dialog .told").toString().contains("(Ana)"));
        assertThat(browser.texts("dialog .told").toString()).contains("1 marked as seen.");
        AlertView seen = server.fleet().leading("ice-0003");
        assertThat(seen.state()).isEqualTo(AlertState.ACKNOWLEDGED);
        assertThat(seen.audit()).last().satisfies(line -> {
            assertThat(line.who()).isEqualTo("Noor");
            assertThat(line.why()).isEqualTo("both go with the visit");
        });
        assertThat(server.fleet().leading("ice-0011").acknowledgedBy()).hasValue("Ana");
        browser.run("document.querySelector('dialog [type=button]').click()");
        browser.until(
                "nothing is chosen any more",
                b -> !b.texts(".chosen").toString().contains("chosen"));
    }

    @Test
    void alerts_allOfAGroup_areMarkedAtOnce() {
        browser.go(server.url("/alerts"));
        browser.find("[data-choose-all=decide]").click();
        int count = browser.all(".group.decide [data-alert]").size();
        browser.until("all are chosen", b -> b.texts(".chosen").toString().contains(count + " chosen"));
        browser.find("[data-mark-chosen]").click();
        browser.find("dialog textarea").sendKeys("read in the morning");
        browser.find("dialog .primary").click();

        browser.until(
                "nothing needs a decision",
                b -> b.all(".group.decide [data-alert]").isEmpty());
        assertThat(browser.all("dialog")).isEmpty();
        assertThat(count).isGreaterThan(2);
    }

    @Test
    void alert_putIntoAnotherCaseAndTakenOutOfIt_isWhereItWasPut() {
        server.account("manager", Role.MANAGER, SiteScope.EVERY);
        browser.go(server.url("/sign-in"));
        button("Enter as manager").click();
        browser.find(".row");
        AlertView alert = server.fleet().leading("ice-0003");
        browser.go(server.url("/alerts/" + alert.finding().id()));
        press("Take out of its case");
        browser.find("dialog textarea[name=reason]").sendKeys("a problem of its own");
        browser.find("dialog .primary").click();
        browser.until(
                "it has its own",
                b -> inCase(alert).isPresent() && !inCase(alert).equals(alert.caseId()));
        browser.until("the dialogue is gone", b -> b.all("dialog").isEmpty());

        press("Put into another case");
        String name = browser.find("dialog select[name=case] option").getText();
        browser.find("dialog textarea[name=reason]").sendKeys("the same, after all");
        browser.find("dialog .primary").click();

        browser.until("it is back", b -> inCase(alert).equals(alert.caseId()));
        assertThat(name).as("by what it is about").contains("ice-0003");
        browser.until(
                "its history says who", b -> b.texts(".history").toString().contains("the same, after all"));
        browser.go(server.url("/cases"));
        browser.until(
                "one case holds both",
                b -> String.join("", b.texts("[data-case='" + alert.caseId().orElseThrow() + "']"))
                        .contains("alerts"));
        assertThat(browser.texts("[data-case='" + alert.caseId().orElseThrow() + "'] .parts a")
                        .toString())
                .contains("Condensing temperature is rising");
    }

    private Optional<UUID> inCase(AlertView alert) {
        return server.fleet().alert(alert.finding().id()).orElseThrow().caseId();
    }

    private WebElement box(AlertView alert) {
        return browser.find("[data-alert='" + alert.finding().id() + "'] .choose input");
    }

    @Test
    void page_serverGoesAway_saysSinceWhen() {
        browser.go(server.url("/"));
        browser.find(".row");
        server.close();

        browser.until("told that it is stale", b -> b.texts(".stale").toString().contains("No live updates since"));
        assertThat(machines()).as("what was known stays").hasSize(7);
    }

    @Test
    void units_switchedToFahrenheit_changeEverywhere() {
        browser.go(server.url("/machines/ice-0003"));
        browser.until("a value in °C", b -> b.texts(".tiles").toString().contains("43.9 °C"));
        browser.find(".units button:last-child").click();

        browser.until("the same in °F", b -> b.texts(".tiles").toString().contains("111.0 °F"));
        browser.find(".units button:first-child").click();
    }

    @Test
    void demonstration_clockRaces_pagesFollowTheProductsTime() {
        Instant begun = Instant.now();
        InstantSource racing = () -> begun.minus(Duration.ofDays(45))
                .plus(Duration.between(begun, Instant.now()).multipliedBy(16_000));
        try (FakeServer demo = FakeServer.demonstration(racing, "Demonstration: living through the last 45 days")) {
            browser.go(demo.url("/"));
            browser.until("the strip is there", b -> b.texts(".demo").toString().contains("45 days, now at"));
            List<String> before = browser.texts(".demo");
            browser.until("its time goes on", b -> !b.texts(".demo").equals(before));
            String shown = browser.texts(".demo").toString();

            assertThat(shown).as("weeks ago, not today's month and day").doesNotContain(today());
            browser.go("about:blank");
        }
    }

    private static String today() {
        return DateTimeFormatter.ofPattern("MMM d,", Locale.ENGLISH).format(LocalDate.now(ZoneId.systemDefault()));
    }

    private static List<String> machines() {
        return browser.texts(".row .id");
    }
}
