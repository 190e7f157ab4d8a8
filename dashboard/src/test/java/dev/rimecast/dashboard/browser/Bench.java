package dev.rimecast.dashboard.browser;

import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.openqa.selenium.WebElement;

/** One browser for a class, and for each test a small fleet of its own. */
abstract class Bench {
    static Browser browser;
    FakeServer server;

    @BeforeAll
    static void open() {
        browser = Browser.open();
    }

    @AfterAll
    static void quit() {
        if (browser != null) {
            browser.close();
        }
    }

    @BeforeEach
    void start() {
        server = FakeServer.start(FakeFleets::small);
    }

    @AfterEach
    void stop() {
        browser.wide();
        browser.scheme("light");
        browser.go("about:blank");
        server.close();
    }

    /** The first button with just this text, as soon as there is one. */
    static WebElement button(String text) {
        browser.until(
                "there is " + text,
                b -> b.all("button").stream().anyMatch(e -> e.getText().equals(text)));
        return browser.all("button").stream()
                .filter(e -> e.getText().equals(text))
                .findFirst()
                .orElseThrow();
    }

    /** Clicks a button with just this text, as soon as there is one, also where the page is just drawn again. */
    static void press(String text) {
        browser.until(
                "button " + text,
                b -> Boolean.TRUE.equals(b.run(
                        "const found = [...document.querySelectorAll('button')].find(b => b.textContent === arguments[0]);"
                                + "found?.click(); return Boolean(found)",
                        text)));
    }
}
