package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.dashboard.Authenticator;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;

/** A second factor added, used and renewed in a browser, by keyboard. */
class SecondFactorIT extends Bench {
    private static final String PHRASE = "seven herons at the quay";
    private static final String FACTOR = "[aria-labelledby=factor] ";

    @Test
    void secondFactor_addedByKeyboard_isAskedForAtTheNextSignIn() throws Exception {
        server.close();
        server = FakeServer.guarded(FakeFleets::small);
        browser.go(server.url("/set-up#" + server.people().links().setUp().orElseThrow()));
        browser.find("input[name=name]").sendKeys("Ada");
        browser.find("input[name=next]").sendKeys(PHRASE);
        browser.find("input[name=again]").sendKeys(PHRASE, Keys.ENTER);
        browser.until("the fleet is there", b -> !b.all(".row").isEmpty());

        browser.go(server.url("/account"));
        browser.until(
                "it can begin", b -> !b.all(FACTOR + "input[name=current]").isEmpty());
        seen("begin");
        browser.find(FACTOR + "input[name=current]").sendKeys("wrong", Keys.ENTER);
        browser.until("refused", b -> b.texts(FACTOR + ".told").toString().contains("password is wrong"));
        browser.find(FACTOR + "input[name=current]").clear();
        browser.find(FACTOR + "input[name=current]").sendKeys(PHRASE, Keys.ENTER);
        browser.until("the key is shown", b -> !b.all(".secret").isEmpty());
        seen("key");
        String secret = browser.texts(".secret").get(0).replace(" ", "");
        assertThat((String) browser.run("return document.querySelector('.steps a').href"))
                .startsWith("otpauth://totp/Rimecast%3AAda?secret=" + secret);
        browser.find(FACTOR + "input[name=code]").sendKeys("12345", Keys.ENTER);
        browser.until("refused", b -> b.texts(FACTOR + ".told").toString().contains("not the code of now"));
        browser.find(FACTOR + "input[name=code]").clear();
        browser.find(FACTOR + "input[name=code]").sendKeys(Authenticator.code(secret), Keys.ENTER);
        browser.until("recovery codes are shown", b -> !b.all(".once code").isEmpty());
        seen("codes");
        List<String> recovery = Arrays.asList(browser.texts(".once code").get(0).split("\\s+"));
        assertThat(recovery).hasSize(10);

        press("Sign out");
        browser.until("out", b -> b.run("return location.pathname").equals("/sign-in"));
        browser.find("input[name=name]").sendKeys("Ada");
        browser.find("input[name=password]").sendKeys(PHRASE, Keys.ENTER);
        browser.until("a code is asked for", b -> !b.all("input[name=code]").isEmpty());
        browser.until(
                "and has the keyboard",
                b -> "code".equals(b.run("return document.activeElement && document.activeElement.name")));
        seen("sign-in");
        browser.find("input[name=code]").sendKeys("000000000", Keys.ENTER);
        browser.until("refused", b -> b.texts(".told").toString().contains("code is wrong"));
        browser.find("input[name=code]").clear();
        browser.find("input[name=code]").sendKeys(recovery.get(0), Keys.ENTER);
        browser.until("in", b -> !b.all(".row").isEmpty());

        browser.go(server.url("/account"));
        browser.until("nine are left", b -> b.texts(FACTOR + "p").toString().contains("9 recovery codes are left"));
        press("Remove the second factor");
        browser.find("dialog input[name=current]").sendKeys(PHRASE);
        browser.find("dialog input[name=code]").sendKeys(recovery.get(1), Keys.ENTER);
        browser.until(
                "it can begin anew", b -> !b.all(FACTOR + "input[name=current]").isEmpty());
    }

    /** WCAG by axe-core in light and dark, and nothing wider than a phone. */
    private static void seen(String what) {
        for (String scheme : List.of("light", "dark")) {
            browser.scheme(scheme);
            assertThat(browser.violations()).as("%s, %s", what, scheme).isEmpty();
        }
        browser.phone();
        assertThat(browser.violations()).as("%s on a phone", what).isEmpty();
        assertThat((Number) browser.run("return document.documentElement.scrollWidth"))
                .as("%s scrolls sideways", what)
                .isEqualTo(390L);
        browser.wide();
        browser.scheme("light");
    }
}
