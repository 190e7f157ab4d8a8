package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.Answer;
import dev.rimecast.alerts.people.FactorRule;
import dev.rimecast.alerts.people.People;
import dev.rimecast.alerts.people.People.Proved;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.people.SecondFactors;
import dev.rimecast.alerts.people.SignIn;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.Authenticator;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.security.GeneralSecurityException;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/** A second factor added, used, asked of everybody and taken away in a browser. */
class SecondFactorIT extends Bench {
    private static final String PHRASE = "seven herons at the quay";
    private static final String FACTOR = "[aria-labelledby=factor] ";

    @Test
    void secondFactor_addedByKeyboard_isAskedForAtTheNextSignIn() throws Exception {
        server.close();
        server = FakeServer.guarded(FakeFleets::small);
        setUp();
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
        String address = (String) browser.run("return document.querySelector('.steps a').href");
        assertThat(address).startsWith("otpauth://totp/Rimecast%3AAda?secret=" + secret);
        for (String scheme : List.of("light", "dark")) {
            browser.scheme(scheme);
            assertThat(browser.scanned(".camera")).as(scheme).isEqualTo(address);
        }
        browser.phone();
        assertThat(browser.scanned(".camera")).as("on a phone").isEqualTo(address);
        browser.wide();
        browser.scheme("light");
        browser.find(FACTOR + "input[name=code]").sendKeys("12345", Keys.ENTER);
        browser.until("refused", b -> b.texts(FACTOR + ".told").toString().contains("not the code of now"));
        browser.find(FACTOR + "input[name=code]").clear();
        browser.find(FACTOR + "input[name=code]").sendKeys(Authenticator.code(secret), Keys.ENTER);
        browser.until("recovery codes are shown", b -> !b.all(".once code").isEmpty());
        seen("codes");
        List<String> recovery = Arrays.asList(browser.texts(".once code").get(0).split("\\s+"));
        assertThat(recovery).hasSize(10);

        press("Sign out");
        password("Ada");
        browser.until(
                "and has the keyboard",
                b -> "code".equals(b.run("return document.activeElement && document.activeElement.name")));
        seen("sign-in");
        code("000000000");
        browser.until("refused", b -> b.texts(".told").toString().contains("code is wrong"));
        code(Authenticator.next(secret));
        browser.until("in by a code of the device", b -> !b.all(".row").isEmpty());

        press("Sign out");
        password("Ada");
        code(recovery.get(0));
        browser.until("in by a recovery code", b -> !b.all(".row").isEmpty());
        press("Sign out");
        password("Ada");
        code(recovery.get(0));
        browser.until("that was once", b -> b.texts(".told").toString().contains("code is wrong"));
        code(recovery.get(1));
        browser.until("in by another", b -> !b.all(".row").isEmpty());

        browser.go(server.url("/account"));
        browser.until("eight are left", b -> b.texts(FACTOR + "p").toString().contains("8 recovery codes are left"));
        press("Remove the second factor");
        browser.find("dialog input[name=current]").sendKeys(PHRASE);
        browser.find("dialog input[name=code]").sendKeys(recovery.get(2), Keys.ENTER);
        browser.until(
                "it can begin anew", b -> !b.all(FACTOR + "input[name=current]").isEmpty());
    }

    @Test
    void secondFactor_ofEverybody_isAddedBeforeAnythingElse_andTakenAwayFromWhoLostThePhone() throws Exception {
        server.close();
        server = FakeServer.guarded(FakeFleets::small, FactorRule.EVERYBODY);
        setUp();
        ledToAdd("the first account");
        browser.go(server.url("/alerts"));
        ledToAdd("whoever asks for another page");
        assertThat(browser.runAsync("const done = arguments[0]; fetch('/api/v1/fleet').then(r => done(r.status))"))
                .isEqualTo(403L);
        add();
        browser.go(server.url("/accounts"));
        browser.until("accounts", b -> !b.all("[data-account=Ada]").isEmpty());
        assertThat(browser.all("[data-account=Ada] button"))
                .as("one's own is not taken away here")
                .hasSize(2);

        String kims = kimWithASecondFactor();
        browser.go(server.url("/accounts"));
        browser.until(
                "Kim has one", b -> b.texts("[data-account=Kim]").toString().contains("second factor"));
        browser.find("[data-account=Kim] button[aria-label='Remove the second factor of Kim']")
                .click();
        browser.until("asked once more", b -> b.texts("dialog").toString().contains("whom you know"));
        seen("remove");
        browser.find("dialog .primary").click();
        browser.until("gone", b -> !b.texts("[data-account=Kim] .tag").contains("second factor"));
        assertThat(server.audit()).contains("Ada: second factor removed, Kim");
        assertThat(server.people().entrance().bySession(kims))
                .as("Kim's session")
                .isEmpty();

        press("Sign out");
        signIn("Kim");
        ledToAdd("Kim, by the password alone");
    }

    private void setUp() {
        browser.go(server.url("/set-up#" + server.people().links().setUp().orElseThrow()));
        browser.find("input[name=name]").sendKeys("Ada");
        browser.find("input[name=next]").sendKeys(PHRASE);
        browser.find("input[name=again]").sendKeys(PHRASE, Keys.ENTER);
    }

    private static void signIn(String name) {
        browser.until("out", b -> b.run("return location.pathname").equals("/sign-in"));
        browser.find("input[name=name]").sendKeys(name);
        browser.find("input[name=password]").sendKeys(PHRASE, Keys.ENTER);
    }

    private static void password(String name) {
        signIn(name);
        browser.until("a code is asked for", b -> !b.all("input[name=code]").isEmpty());
    }

    private static void code(String code) {
        WebElement field = browser.find("input[name=code]");
        field.clear();
        field.sendKeys(code, Keys.ENTER);
    }

    private static void ledToAdd(String who) {
        browser.until(
                who + " is led to where it is added",
                b -> b.texts(FACTOR + ".notice").toString().contains("you can do nothing else")
                        && b.run("return location.pathname").equals("/account"));
    }

    private static void add() throws GeneralSecurityException {
        browser.find(FACTOR + "input[name=current]").sendKeys(PHRASE, Keys.ENTER);
        browser.until("the key is shown", b -> !b.all(".secret").isEmpty());
        code(Authenticator.code(browser.texts(".secret").get(0).replace(" ", "")));
        browser.until("recovery codes are shown", b -> !b.all(".once code").isEmpty());
    }

    /** An account beside Ada's that has signed in and added a second factor; gives the token of its session. */
    private String kimWithASecondFactor() throws GeneralSecurityException {
        People people = server.people();
        Visitor root = server.visitor(server.account("Root", Role.ADMINISTRATOR, SiteScope.EVERY));
        Account kim = done(people.accounts().create(root, "Kim", Role.VIEWER, SiteScope.EVERY));
        done(people.links().redeem(done(people.links().offer(root, kim)), PHRASE));
        String session =
                ((SignIn.Outcome.In) people.signIn().withPassword("Kim", PHRASE, "127.0.0.1", "test")).sessionToken();
        Proved<SecondFactors.Proposal> proposal = done(people.proposeFactor(kim, PHRASE, "127.0.0.1"));
        String secret = ((Proved.Yes<SecondFactors.Proposal>) proposal).value().secret();
        Visitor visitor = people.entrance().bySession(session).orElseThrow();
        done(people.factors().confirm(visitor, Authenticator.code(secret)));
        return session;
    }

    private static <T> T done(Answer<T> answer) {
        return ((Answer.Done<T>) answer).value();
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
