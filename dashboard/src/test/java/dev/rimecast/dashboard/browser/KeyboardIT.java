package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.dashboard.fake.FakeServer;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;

/** Whole jobs from their first page to their end without a mouse. */
class KeyboardIT extends Bench {
    private Keyboard keyboard;

    @BeforeEach
    void atTheKeyboard() {
        keyboard = new Keyboard(browser);
    }

    private AlertView alert() {
        return server.fleet().leading("ice-0003");
    }

    @Test
    void operator_fromTheFleetToAnAlertThatSomebodyHas_byKeysAlone() {
        server.account("Kim", Role.ENGINEER, SiteScope.EVERY);
        browser.complaints();
        browser.go(server.url("/"));
        browser.find(".row");
        keyboard.tabTo(".skip");
        keyboard.press(Keys.ENTER);
        keyboard.tabTo("[data-machine=ice-0003] a.what");
        keyboard.press(Keys.ENTER);

        keyboard.tabTo("button", "Mark as seen");
        keyboard.press(Keys.ENTER);
        keyboard.tabTo("dialog textarea");
        keyboard.type("asked the site to wash the filter");
        keyboard.tabTo("dialog .primary");
        keyboard.press(Keys.SPACE);
        browser.until("shown as seen", b -> b.texts(".facts").toString().contains("seen by " + FakeServer.OPERATOR));
        assertThat(alert().state()).isEqualTo(AlertState.ACKNOWLEDGED);
        keyboard.hasAPlace("after it was marked");

        keyboard.tabTo("[data-answer=clean]");
        keyboard.press(Keys.ENTER);
        browser.find("[data-question=fan-turns]");
        keyboard.hasAPlace("after it was answered");
        assertThat(browser.texts("[data-answered=air-filter]").toString()).contains("it is clean");

        keyboard.tabTo("button", "Give to somebody");
        keyboard.press(Keys.ENTER);
        keyboard.tabTo("dialog select");
        keyboard.press(Keys.ARROW_DOWN);
        assertThat(browser.run("return document.activeElement.value")).isEqualTo("Kim");
        keyboard.tabTo("dialog .primary");
        keyboard.press(Keys.ENTER);
        browser.until("Kim has it", b -> alert().assignee().equals(Optional.of("Kim")));

        keyboard.tabTo("button", "Write a note");
        keyboard.press(Keys.ENTER);
        browser.find("dialog textarea");
        keyboard.press(Keys.ESCAPE);
        browser.until("it is not asked any more", b -> b.all("dialog").isEmpty());
        keyboard.tabTo("button", "Write a note");
        assertThat(browser.complaints()).isEmpty();
    }

    private VisitView visit(VisitView visit) {
        return server.visits().one(visit.id()).orElseThrow();
    }

    @Test
    void manager_fromSigningInToAVisitThatIsMoved_byKeysAlone() {
        server.account("Mara", Role.MANAGER, SiteScope.EVERY);
        VisitView visit = server.visits().list(SiteScope.EVERY, Filter.OPEN).stream()
                .filter(each ->
                        each.needs().stream().anyMatch(planned -> planned.need().kind() == Need.Kind.CASE))
                .findFirst()
                .orElseThrow();
        String row = "[data-visit=\"" + visit.id() + "\"]";
        browser.complaints();
        browser.go(server.url("/sign-in"));
        browser.find("button");
        keyboard.tabTo("button", "Enter as Mara");
        keyboard.press(Keys.ENTER);
        browser.until("Mara", b -> b.texts(".who-am-i a").equals(List.of("Mara")));
        keyboard.tabTo("nav a[href='/visits']");
        keyboard.press(Keys.ENTER);
        browser.find(row);

        keyboard.tabTo(row + " button.primary");
        keyboard.press(Keys.ENTER);
        keyboard.tabTo("dialog textarea");
        keyboard.type("Key at the bar.");
        keyboard.tabTo("dialog .primary");
        keyboard.press(Keys.ENTER);
        browser.until("it is accepted", b -> visit(visit).state() == State.ACCEPTED);
        keyboard.hasAPlace("after it was accepted");

        keyboard.tabTo(row + " button[aria-label^='Move']");
        keyboard.press(Keys.SPACE);
        keyboard.tabTo("dialog input[name=day]");
        LocalDate later = visit.day().plusDays(2);
        keyboard.type(DateTimeFormatter.ofPattern("MMddyyyy", Locale.ROOT).format(later));
        browser.until(
                "what the move changes",
                b -> b.run("return document.querySelector('dialog input[name=day]').value")
                                .equals(later.toString())
                        && !b.texts("dialog .effect p").isEmpty());
        keyboard.tabTo("dialog select[name=engineer]");
        keyboard.tabTo("dialog .primary");
        keyboard.press(Keys.ENTER);
        browser.until("it is moved", b -> visit(visit).day().equals(later));

        keyboard.tabTo(row + " a[href='/visits/" + visit.id() + "']");
        keyboard.press(Keys.ENTER);
        browser.until("its sheet", b -> b.texts("h1").equals(List.of("Visit to " + visit.siteName())));
        assertThat(browser.texts(".visit-sheet").toString()).contains("Key at the bar.");
        assertThat(browser.complaints()).isEmpty();
    }
}
