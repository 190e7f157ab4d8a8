package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeServer;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;

/** A whole job from its first page to its end without a mouse. */
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
}
