package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.people.Tokens;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.alerts.view.SiteScope;
import java.util.List;
import org.junit.jupiter.api.Test;

/** A link for a screen on a wall: made by somebody who has an account, opened by a browser that has none. */
class WallIT extends Bench {
    private String link() {
        server.account("Mara", Role.MANAGER, SiteScope.EVERY);
        browser.forgetCookies();
        browser.go(server.url("/sign-in"));
        press("Enter as Mara");
        browser.until("Mara", b -> b.texts(".who-am-i a").equals(List.of("Mara")));
        browser.go(server.url("/tokens"));
        press("Make a link for a wall screen");
        browser.find("dialog input[name=name]").sendKeys("Kitchen wall");
        browser.find("dialog input[name=every][value=false]").click();
        browser.find("dialog input[name=sites][value=site-1]").click();
        assertThat(browser.violations()).isEmpty();
        browser.find("dialog button.primary").click();
        String link = browser.find(".once code").getText();
        assertThat(link)
                .startsWith(server.url("/wall#"))
                .hasSizeGreaterThan(server.url("/wall#").length() + 40);
        assertThat(browser.texts(".person").toString()).contains("Kitchen wall", "wall screen", "Quay Street Canteen");
        return link;
    }

    private void openOnTheWall(String link) {
        browser.go("about:blank");
        browser.forgetCookies();
        browser.go(link);
        browser.find(".wall .row");
    }

    @Test
    void link_onAScreen_showsTheFleetOfItsSitesAndNothingToPress() {
        String link = link();
        browser.complaints();
        openOnTheWall(link);

        assertThat(browser.texts("main").toString())
                .contains("ice-0003", "Condensing temperature is rising", "3 machines work as they should")
                .doesNotContain("ice-0014", "Mill Bar");
        assertThat(browser.all("main :is(a, button, input, select)")).isEmpty();
        for (String scheme : List.of("light", "dark")) {
            browser.scheme(scheme);
            assertThat(browser.violations()).as(scheme).isEmpty();
        }
        browser.phone();
        openOnTheWall(link);
        assertThat((Number) browser.run("return document.documentElement.scrollWidth"))
                .isEqualTo(390L);
        assertThat(browser.violations()).isEmpty();
        assertThat((String) browser.run("return document.cookie")).isEmpty();
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void link_takenBack_showsNothingAnyMore() {
        String link = link();
        openOnTheWall(link);
        Tokens tokens = server.people().tokens();
        Visitor mara = server.visitor(server.account("Mara", Role.MANAGER, SiteScope.EVERY));
        tokens.revoke(mara, tokens.list(mara).get(0).id());

        browser.go("about:blank");
        browser.go(link);

        browser.until("says so", b -> b.texts("[role=alert]").toString().contains("was taken back"));
        assertThat(browser.texts("main").toString()).doesNotContain("ice-0003");
        assertThat(browser.violations()).isEmpty();
    }

    @Test
    void wall_whoseServerIsGone_keepsWhatItShowsAndSaysSinceWhen() {
        String link = link();
        // nobody here waits for 15 s: every look is taken at once
        browser.beforeEachPage(
                "const every = window.setInterval; window.setInterval = (look, ms) => every(look, ms / 50);");
        openOnTheWall(link);

        int port = server.fallSilent();
        browser.until("it is stale", b -> !b.texts(".wall .strip.stale").isEmpty());
        assertThat(browser.texts(".wall .strip.stale").get(0))
                .matches("No answer from the server since .*\\d.*\\. What you see may be old\\.");
        assertThat(browser.texts("main").toString()).contains("ice-0003", "3 machines work as they should");
        assertThat(browser.violations()).isEmpty();
        server.answerAgain(port);

        browser.until("it is not any more", b -> b.texts(".wall .strip.stale").isEmpty());
    }
}
