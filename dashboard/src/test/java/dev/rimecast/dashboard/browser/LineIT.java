package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.SiteScope;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

/** Pages over a line that is slow, and whose server is started again or does not answer. */
class LineIT extends Bench {
    private static final int LATENCY_MILLIS = 300;
    private static final int BYTES_PER_SECOND = 80_000;

    @AfterEach
    void asBefore() {
        browser.fast();
    }

    @Test
    void alert_markedAsSeenOverASlowLine_isMarkedOnceAndNothingIsTakenForLost() {
        AlertView alert = server.fleet().leading("ice-0011");
        browser.complaints();
        browser.forgetFiles();
        browser.slow(LATENCY_MILLIS, BYTES_PER_SECOND);
        browser.go(server.url("/"));
        browser.find(".row[data-machine=ice-0011]");
        assertThat(((Number) browser.run("return performance.getEntriesByType('resource')"
                                + ".find(e => e.name.endsWith('/fleet.js')).duration"))
                        .longValue())
                .as("the line is slow indeed")
                .isGreaterThanOrEqualTo(LATENCY_MILLIS - 20);

        browser.go(server.url("/alerts/" + alert.finding().id()));
        press("Mark as seen");
        browser.find("dialog textarea").sendKeys("on my way");
        // as of somebody who is not sure that the first press was felt
        browser.run("const b = document.querySelector('dialog .primary'); b.click(); b.click()");
        browser.until("it is told", b -> b.texts("main").toString().contains("seen by Noor"));

        AlertView seen = server.fleet().leading("ice-0011");
        assertThat(seen.state()).isEqualTo(AlertState.ACKNOWLEDGED);
        assertThat(seen.audit()).filteredOn(line -> line.who().equals("Noor")).hasSize(1);
        assertThat(browser.all(".strip.stale")).isEmpty();
        assertThat(browser.all("dialog"))
                .as("no answer that somebody was faster")
                .isEmpty();
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void page_whoseServerIsStartedAgain_goesOnByItselfWithWhatHappenedMeanwhile() {
        browser.go(server.url("/"));
        browser.find(".row");
        browser.run("window.stillTheSamePage = true");
        AlertView alert = server.fleet().leading("ice-0011");

        int port = server.fallSilent();
        browser.until("told that it is stale", b -> b.texts(".stale").toString().contains("No live updates since"));
        server.fleet().acknowledge(alert.finding().id(), alert.version(), "Ana", "by telephone");
        assertThat(row()).as("what was known stays").doesNotContain("Ana");
        server.answerAgain(port);

        browser.until("Ana has it", b -> row().contains("Ana"));
        browser.until("nothing is stale", b -> b.all(".stale").isEmpty());
        browser.until("the foot, too", b -> b.texts(".foot").toString().contains("All stages work"));
        AlertView next = server.fleet().leading("ice-0003");
        server.fleet().acknowledge(next.finding().id(), next.version(), "Ben", "");
        browser.until(
                "and it hears what changes",
                b -> b.texts(".row[data-machine=ice-0003] .who").toString().contains("Ben"));
        assertThat(browser.run("return window.stillTheSamePage")).isEqualTo(true);
    }

    @Test
    void page_thatAsksAgainAndAgain_goesOnWhenItsServerIsBack() {
        server.account("administrator", Role.ADMINISTRATOR, SiteScope.EVERY);
        browser.go(server.url("/sign-in"));
        button("Enter as administrator").click();
        browser.find(".row");
        browser.go(server.url("/system"));
        browser.find("[data-stage=analytics]");

        int port = server.fallSilent();
        browser.until("stale", b -> !b.all(".strip.stale").isEmpty());
        server.figures().stand("rimecast.analytics.behind.seconds", 77);
        server.answerAgain(port);

        browser.until(
                "its figures", b -> b.texts("[data-stage=analytics]").toString().contains("77 s behind"));
        browser.until("nothing is stale", b -> b.all(".strip.stale").isEmpty());
    }

    private String row() {
        return String.join("", browser.texts(".row[data-machine=ice-0011]"));
    }
}
