package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;

/** Coming in, accounts and tokens, done in a browser. */
class PeopleIT extends Bench {
    private static final String PHRASE = "seven herons at the quay";

    @Test
    void installation_fromTheSetUpLinkToAnAccountOfOneSite_works() {
        server.close();
        server = FakeServer.guarded(FakeFleets::small);
        browser.go(server.url("/alerts"));
        browser.until("led to the sign-in page", b -> path().equals("/sign-in"));

        browser.go(server.url("/set-up#" + server.people().links().setUp().orElseThrow()));
        browser.find("input[name=name]").sendKeys("Ada");
        passwords(PHRASE, PHRASE + "!");
        browser.until("told that they differ", b -> told().contains("not the same"));
        passwords(PHRASE, PHRASE);
        browser.until("the fleet is there", b -> !b.all(".row").isEmpty());
        assertThat(browser.texts(".who-am-i a")).containsExactly("Ada");
        assertThat(browser.texts(".borrowed")).isEmpty();

        browser.go(server.url("/accounts"));
        press("Make an account");
        browser.find("dialog input[name=name]").sendKeys("Kim");
        browser.find("dialog input[name=every][value=false]").click();
        browser.find("dialog input[value=site-2]").click();
        browser.find("dialog .primary").click();
        browser.until("the link is shown", b -> !b.all(".once code").isEmpty());
        assertThat(browser.violations()).isEmpty();
        String link = browser.texts(".once code").get(0);
        assertThat(browser.texts("[data-account=Kim]").toString()).contains("has not chosen a password");
        press("Sign out");
        browser.until("out", b -> path().equals("/sign-in"));

        browser.go(link);
        passwords("passwordpassword", "passwordpassword");
        browser.until("a common one is refused", b -> told().contains("first that are tried"));
        passwords(PHRASE, PHRASE);
        browser.until("the fleet is there", b -> b.texts(".who-am-i a").equals(List.of("Kim")));
        browser.until(
                "only site 2",
                b -> b.texts("h1 + .summary, .summary").toString().contains("machine"));
        assertThat(browser.all("[data-machine=ice-0003]")).isEmpty();
        press("Sign out");
        browser.until("out", b -> path().equals("/sign-in"));

        browser.go(server.url("/sign-in?then=%2Fcases"));
        browser.find("input[name=name]").sendKeys("kim");
        browser.find("input[name=password]").sendKeys("wrong wrong wrong");
        browser.find("form .primary").click();
        browser.until("refused", b -> told().contains("name or the password is wrong"));
        browser.find("input[name=password]").clear();
        browser.find("input[name=password]").sendKeys(PHRASE);
        browser.find("form .primary").click();
        browser.until("back where it was asked for", b -> path().equals("/cases"));

        press("Sign out");
        browser.until("out", b -> path().equals("/sign-in"));
        browser.go(server.url("/sign-in?then=%2F.%2F%2Fnobody.invalid%2Fcases"));
        browser.find("input[name=name]").sendKeys("kim");
        browser.find("input[name=password]").sendKeys(PHRASE, Keys.ENTER);
        browser.until("gone on", b -> !path().equals("/sign-in"));
        assertThat(browser.run("return location.origin"))
                .as("never to another server")
                .isEqualTo(server.url(""));
    }

    @Test
    void demonstration_anotherAccount_canBeTakenAndSaysSo() {
        server.account("Vic", Role.VIEWER, SiteScope.EVERY);
        server.account("Ada", Role.ADMINISTRATOR, SiteScope.EVERY);
        browser.go(server.url("/"));
        browser.until("says what it is", b -> b.texts(".borrowed").toString().contains("demonstration account: Noor"));

        browser.find(".borrowed a").click();
        press("Enter as Vic");
        browser.until("Vic", b -> b.texts(".who-am-i a").equals(List.of("Vic")));
        browser.go(server.url("/alerts"));
        browser.until("alerts are there", b -> !b.all(".row").isEmpty());
        assertThat(browser.all(".row .who button")).as("a viewer marks nothing").isEmpty();

        press("Sign out");
        browser.until("out", b -> path().equals("/sign-in"));
        browser.go(server.url("/"));
        browser.until("does not come in by itself again", b -> path().equals("/sign-in"));
        press("Enter as Ada");
        browser.until("Ada", b -> b.texts(".who-am-i a").equals(List.of("Ada")));
        browser.go(server.url("/accounts"));
        browser.until("accounts", b -> b.all(".person").size() == 3);
        for (Runnable size : List.<Runnable>of(browser::wide, browser::phone)) {
            size.run();
            browser.go(server.url("/accounts"));
            browser.until("accounts", b -> b.all(".person").size() == 3);
            assertThat(browser.violations()).isEmpty();
        }
        assertThat((Number) browser.run("return document.documentElement.scrollWidth"))
                .isEqualTo(390L);
        browser.wide();
    }

    @Test
    void token_made_isShownOnceAndTakenBack() {
        browser.go(server.url("/tokens"));
        press("Make a token");
        browser.find("dialog input[name=name]").sendKeys("nightly export");
        browser.find("dialog .primary").click();
        browser.until("shown", b -> !b.all(".once code").isEmpty());
        String secret = browser.texts(".once code").get(0);
        assertThat(server.people().entrance().byToken(secret)).isPresent();
        assertThat(browser.violations()).isEmpty();

        press("Take back");
        browser.until("gone", b -> b.all(".person").isEmpty());
        assertThat(server.people().entrance().byToken(secret)).isEmpty();
    }

    @Test
    void session_endedElsewhere_leadsToTheSignInPage() {
        browser.go(server.url("/"));
        browser.until("the fleet is there", b -> !b.all(".row").isEmpty());
        press("Sign out");
        browser.until("out", b -> path().equals("/sign-in"));
        press("Enter as Noor");
        browser.until("in", b -> !b.all(".row").isEmpty());

        var noor = server.account(FakeServer.OPERATOR, Role.OPERATOR, SiteScope.EVERY);
        server.people()
                .entrance()
                .sessions(noor)
                .forEach(each -> server.people().entrance().end(noor, each.id()));
        server.fleet().clear("ice-0014");

        browser.until(
                "in anew, as a demonstration does",
                b -> server.people().entrance().sessions(noor).size() == 1);
    }

    private static void passwords(String one, String again) {
        for (String name : List.of("next", "again")) {
            browser.find("input[name=" + name + "]").clear();
            browser.find("input[name=" + name + "]").sendKeys(name.equals("next") ? one : again);
        }
        browser.find("form .primary").click();
    }

    private static String told() {
        return browser.texts(".told").toString();
    }

    private static String path() {
        return browser.run("return location.pathname").toString();
    }
}
