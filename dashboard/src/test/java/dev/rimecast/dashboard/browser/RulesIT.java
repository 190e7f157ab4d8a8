package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.rules.Book;
import dev.rimecast.alerts.rules.RuleVersion;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** A manager looks at the rules and changes one, in a browser. */
class RulesIT extends Bench {
    @BeforeEach
    void managers() {
        browser.complaints(); // of the test before, which may have been refused on purpose
        server.account("Maren", Role.MANAGER, SiteScope.EVERY);
        server.account("Olu", Role.MANAGER, SiteScope.of(List.of("site-1")));
    }

    /** A page with an editor asks before it is left. */
    @AfterEach
    void leave() {
        browser.run("document.querySelector('.editor') && location.reload()");
        browser.go("about:blank");
        browser.forgetCookies();
    }

    @Test
    void manager_whoAsksWhyAnAlertIsUrgent_seesTheRuleChangesItAndTakesItBack() {
        enter("Maren", "/rules");
        browser.until("the books", b -> b.all(".book").size() == 4);
        assertThat(browser.texts(".book .hint")).allMatch(text -> text.equals("The standard of the product decides."));
        assertThat(browser.violations()).isEmpty();

        browser.find("[data-book=priority] a").click();
        browser.until("the rules in words", b -> b.all(".rules li").size() == 5);
        assertThat(browser.texts(".rules li").get(0))
                .contains("The site runs out of ice within a day.", "no more than 24 h are left", "it is urgent");
        assertThat(browser.texts(".alike h3").toString()).contains("Makes no ice");
        assertThat(browser.texts(".sheet thead th")).contains("within 24 h", "within 3 days", "later, or no date");
        assertThat(browser.violations()).isEmpty();

        press("Change");
        write("priority: urgent", "priority: tomorrow");
        assertThat(browser.texts("button")).as("check comes before save").doesNotContain("Save …");
        press("Check");
        browser.until(
                "what is wrong", b -> b.texts(".cautions .told").toString().contains("One thing"));
        assertThat(browser.texts(".cautions li").get(0)).contains("rules[0].priority", "must be one of urgent");
        browser.find(".editor .line").click();
        assertThat(browser.run("const a = document.querySelector('.editor textarea');"
                        + " return a.value.slice(a.selectionStart, a.selectionEnd)"))
                .asString()
                .contains("priority: tomorrow");
        assertThat(browser.violations()).isEmpty();

        write("priority: tomorrow", "priority: urgent");
        write(
                "priority: medium\n",
                "priority: medium\n  - {words: All of it., when: {found: [low, medium, high]}, priority: urgent}\n");
        press("Check");
        browser.until(
                "what would change", b -> b.texts(".editor .well").toString().contains("would change at once"));
        assertThat(browser.texts(".diff .added").toString()).contains("All of it.");
        press("Save …");
        browser.find("dialog textarea").sendKeys("a trial for an hour");
        assertThat(browser.violations()).isEmpty();
        browser.find("dialog .primary").click();
        browser.until("saved", b -> b.texts(".head").toString().contains("Your own version 1 decides."));
        assertThat(server.rules().versions(Book.PRIORITY)).singleElement().satisfies(version -> {
            assertThat(version.who()).isEqualTo("Maren");
            assertThat(version.why()).isEqualTo("a trial for an hour");
        });
        assertThat(browser.texts(".rules li").get(5)).contains("All of it.");
        assertThat(browser.texts(".diff .added").toString()).contains("All of it.");

        press("Follow the standard again");
        browser.find("dialog textarea").sendKeys("the hour is over");
        browser.find("dialog .primary").click();
        browser.until("the standard again", b -> b.all(".rules li").size() == 5);
        assertThat(browser.texts("[data-version]")).hasSize(2);
        assertThat(browser.texts("[data-version='2']").toString()).contains("the hour is over", "follows the standard");
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void manager_whileSomebodyElseSaves_isToldAndLosesNothing() {
        enter("Maren", "/rules/life");
        press("Change");
        write("longest_shelf: 14d", "longest_shelf: 10d");
        press("Check");
        browser.until("legal", b -> b.texts(".editor .well").toString().contains("This can be saved."));
        server.rules()
                .save(
                        Book.LIFE,
                        0,
                        Book.LIFE.standardText().replace("it is being cleaned", "somebody cleans it"),
                        new Person("Ada"),
                        "plainer");

        press("Save …");
        browser.find("dialog textarea").sendKeys("shorter");
        browser.find("dialog .primary").click();
        browser.until("refused", b -> b.texts("dialog .told").toString().contains("saved by Ada"));
        press("Cancel");
        browser.until("told on the page", b -> b.texts(".notice").toString().contains("Ada has saved version 1"));
        assertThat(browser.run("return document.querySelector('.editor textarea').value"))
                .asString()
                .contains("longest_shelf: 10d");
        press("Go on from that version");
        browser.until(
                "compared with theirs",
                b -> b.texts(".diff .removed").toString().contains("somebody cleans it"));
        write("it is being cleaned", "somebody cleans it");
        press("Check");
        press("Save …");
        browser.find("dialog textarea").sendKeys("shorter, on top");
        browser.find("dialog .primary").click();
        browser.until("saved", b -> b.texts(".head").toString().contains("Your own version 2 decides."));
        assertThat(server.rules().current(Book.LIFE).text()).contains("longest_shelf: 10d", "somebody cleans it");
    }

    @Test
    void everyState_onAPhoneAndInTheDark_isReadable() {
        server.rules()
                .save(
                        Book.PRIORITY,
                        0,
                        Book.PRIORITY.standardText().replace("within: 3d", "within: 2d"),
                        new Person("Ada"),
                        "later is soon enough");
        server.ruleStore()
                .append(new RuleVersion(
                        Book.CASES,
                        1,
                        Optional.of("version: old\nnearness: 3\n"),
                        Instant.EPOCH,
                        "Ada",
                        "of an earlier version",
                        Optional.empty()));
        enter("Maren", "/rules");
        for (String scheme : List.of("light", "dark")) {
            browser.scheme(scheme);
            for (Runnable size : List.<Runnable>of(browser::wide, browser::phone)) {
                size.run();
                for (String path : List.of("/rules", "/rules/priority", "/rules/cases", "/rules/advice")) {
                    browser.go(server.url(path));
                    browser.until(
                            path,
                            b -> b.all(".book").size() == 4
                                    || !b.all("#differences .diff, #differences .well")
                                            .isEmpty());
                    assertThat(browser.violations()).as(path + ", " + scheme).isEmpty();
                    assertThat((Number) browser.run("return document.documentElement.scrollWidth - innerWidth"))
                            .as(path)
                            .matches(more -> more.longValue() <= 0);
                }
            }
        }
        browser.scheme("light");
        browser.go(server.url("/rules/cases"));
        browser.until("told", b -> b.texts(".rulebook .told").toString().contains("cannot be read by this version"));
        assertThat(browser.texts(".cautions li").toString()).contains("nearness", "is not a known key");
    }

    @Test
    void managerOfOneSite_readsAndIsToldWhoCanChange() {
        enter("Olu", "/rules/priority");
        browser.until("the rules in words", b -> b.all(".rules li").size() == 5);
        browser.until(
                "told",
                b -> b.texts(".head").toString().contains("Only a manager or administrator who sees every site"));
        assertThat(browser.texts("button")).doesNotContain("Change");
    }

    private void enter(String name, String path) {
        browser.go(server.url("/sign-in"));
        press("Enter as " + name);
        browser.until(name, b -> b.texts(".who-am-i a").equals(List.of(name)));
        browser.go(server.url(path));
    }

    /** As if typed: the editor hears of it. */
    private static void write(String before, String after) {
        browser.until("the editor", b -> !b.all(".editor textarea").isEmpty());
        browser.run(
                "const a = document.querySelector('.editor textarea'); a.value = a.value.replace(arguments[0], arguments[1]);"
                        + " a.dispatchEvent(new Event('input'))",
                before,
                after);
    }
}
