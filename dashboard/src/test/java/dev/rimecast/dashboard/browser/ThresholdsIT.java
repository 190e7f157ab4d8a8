package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.bench.Version;
import dev.rimecast.dashboard.fake.FakeBench;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;

/** An analyst changes thresholds on the past, on trial and in force, in a browser; others look at them. */
class ThresholdsIT extends Bench {
    private static final String RATE = "[data-path='" + FakeBench.RATE + "']";

    /** A page with changes asks before it is left. */
    @AfterEach
    void leave() {
        browser.run("[...document.querySelectorAll('button')].find(b => b.textContent === 'Discard')?.click()");
        browser.go("about:blank");
        browser.forgetCookies();
    }

    private void enterAs(String name, Role role, SiteScope sites) {
        server.account(name, role, sites);
        browser.go(server.url("/sign-in"));
        press("Enter as " + name);
        browser.until(name, b -> b.texts(".who-am-i a").equals(List.of(name)));
        browser.go(server.url("/thresholds"));
        browser.until("the numbers", b -> !b.all(".numbers-list").isEmpty());
    }

    @Test
    void analyst_asksThePast_triesBeside_promotes_andTakesItBack() {
        browser.complaints();
        enterAs("Ana", Role.ANALYST, SiteScope.EVERY);
        assertThat(browser.texts(".head").toString()).contains("Version 2 is in force: firm-2", "a bar was warm");

        // a step of the slider by keyboard, then a value by hand, then one that can't be
        browser.find(RATE + " input[type=range]").sendKeys(Keys.ARROW_RIGHT);
        browser.until("it is changed", b -> b.texts(".draft").toString().contains("One number is changed"));
        write("0.5");
        assertThat(browser.texts(".draft .changes").toString()).contains("0.1 a machine-year → 0.5 a machine-year");
        write("1000");
        browser.until("what is wrong", b -> b.texts(RATE + " .told").toString().contains("must be 0.001 to 100"));
        assertThat(browser.texts(".draft .changes").toString())
                .as("the last that can be")
                .contains("→ 0.5");
        write("0.5");

        press("What would it have changed?");
        browser.until("the answer", b -> !b.all(".run .figures").isEmpty());
        byMachineAndCause();
        assertThat(browser.texts(".run").toString())
                .contains(
                        "Problems known before their time",
                        "6 of 8",
                        "7 of 8",
                        "of 5 alerts by the numbers in force nobody knows",
                        "4 alerts would have been otherwise",
                        "not any more",
                        "exactly the alerts that were raised. Left out are 2 steps of alerts of the last minutes",
                        "3 (0.8 to 7.8)");
        assertThat(saved("backtest-1.txt")).startsWith("Problems known before their time");
        assertThat(saved("policy-1.yaml")).contains("false_alarms_per_machine_year: 0.5");
        assertThat((String) browser.run("return document.querySelector('.differences a.hint').getAttribute('href')"))
                .startsWith("/machines/ice-0003?hours=168&to=");
        assertThat(browser.violations()).isEmpty();

        press("Try beside …");
        inDialog("are alerts earlier?");
        browser.until("the trial", b -> b.texts("[data-trial]").toString().contains("Since it began: 7 alerts"));
        assertThat(browser.texts(".draft").toString()).contains("Nothing is changed yet");
        press("Promote …");
        inDialog("earlier, and no noisier");
        browser.until("in force", b -> b.texts(".head").toString().contains("Version 3 is in force: firm-3"));
        Version newest = server.bench().versions().get(0);
        assertThat(newest.who()).isEqualTo("Ana");
        assertThat(newest.why()).isEqualTo("earlier, and no noisier");
        assertThat(browser.texts("[data-version='3']").toString()).contains("from trial 1", "→ 0.5 a machine-year");

        browser.find("[data-version='2'] button").click();
        inDialog("it was noisier");
        browser.until(
                "taken back", b -> b.texts("[data-version='4']").toString().contains("version 2 again"));
        assertThat(browser.complaints()).isEmpty();
    }

    /** The machine on which the two differ, with its plots; those that are alike are folded away. */
    private void byMachineAndCause() {
        assertThat(browser.texts(".run .sides tbody tr").get(0))
                .contains("ice-0003", "1 of 3 → 2 of 3", "2 → 1", "1 earlier", "2 → 3", "1 → 0", "plots");
        assertThat(browser.texts(".run").toString())
                .contains("3 of 412 machines with a problem or an alert are listed", "The same by both: 2 rows");
        assertThat(hrefs(".run .sides a[aria-label]"))
                .as("each row that is of a machine, and each cause, has its plots")
                .hasSize(2 + 3)
                .allMatch(href -> href.matches("/machines/ice-000\\d\\?hours=168&to=\\d{4}-.*Z"));
        assertThat(browser.texts(".run .sides").get(2))
                .contains("4 of 5 (45 to 95 %) → 5 of 5 (65 to 100 %)", "no cause known or named");
        browser.run("document.querySelector('.run details.fold').open = true");
        assertThat(browser.texts(".run details.fold tbody tr").toString()).contains("ice-0001", "site-2");
        assertThat(hrefs(".run details.fold tbody th a"))
                .as("a site has no machine's page")
                .containsExactly("/machines/ice-0001");
        browser.width(390);
        browser.until(
                "nothing is wider than a phone",
                b -> b.run("return document.documentElement.scrollWidth - document.documentElement.clientWidth")
                        .equals(0L));
        browser.width(1400);
    }

    @SuppressWarnings("unchecked")
    private List<String> hrefs(String selector) {
        return (List<String>) browser.run(
                "return [...document.querySelectorAll(arguments[0])].map((a) => decodeURIComponent(a.getAttribute('href')))",
                selector);
    }

    @Test
    void movedNumber_showsItsEffectAtOnce_andAFileBecomesTheChanges() {
        browser.complaints();
        enterAs("Ana", Role.ANALYST, SiteScope.EVERY);
        browser.until("ready", b -> b.texts(".draft").toString().contains("The last 3 months are ready"));
        browser.find(RATE + " input[type=range]").sendKeys(Keys.ARROW_RIGHT);
        browser.until(
                "of a part of the fleet, below the slider",
                b -> b.texts(RATE + " .effect-line").toString().contains("About 256 (224 to 288) alerts"));
        assertThat(browser.texts(RATE + " .effect-line").toString())
                .contains("So far from 40 of your 300 machines (10 of 75 sites).");
        browser.until(
                "of all", b -> b.texts("#effect[data-state=done]").toString().contains("Every site was decided anew"));
        assertThat(browser.texts("#effect").toString())
                .contains("251 alerts about machines instead of 212", "7 of 8 (63 to 98 %)", "19 of 75 sites");
        assertThat(browser.violations()).isEmpty();

        browser.run("document.querySelector('#file').open = true");
        paste("verzion: x");
        browser.until("what is wrong", b -> b.texts("#file .checks").toString().contains("line 3: all.change.moon"));
        paste("version: firm-2-tuned");
        browser.until(
                "it is in the changes",
                b -> b.texts(".draft .changes").toString().contains("0.1 a machine-year → 0.5 a machine-year"));
        assertThat(browser.texts("#file").toString())
                .contains("one number is not as in force", "These are of model groups", "cube-50");
        assertThat(browser.violations()).isEmpty();
        browser.width(390);
        browser.until(
                "nothing is wider than a phone",
                b -> b.run("return document.documentElement.scrollWidth - document.documentElement.clientWidth")
                        .equals(0L));
        browser.width(1400);
        // the refused file is the one complaint that the browser itself logs
        assertThat(browser.complaints()).allMatch(each -> each.contains("422"));
    }

    private void paste(String text) {
        browser.run(
                "const t = document.querySelector('#file textarea'); t.value = arguments[0]; t.form.requestSubmit()",
                text);
    }

    @Test
    void analyst_triesValuesOfANumber_andTakesOne() {
        enterAs("Ana", Role.ANALYST, SiteScope.EVERY);
        browser.run("document.querySelector('.sweep').closest('details').open = true");
        press("Try the values");
        browser.until("the plot", b -> !b.all("[data-plot=frontier] canvas").isEmpty());
        assertThat(browser.texts(".points tbody tr")).hasSize(6);
        assertThat(browser.texts(".run").toString())
                .contains("cheapest", "Nothing is proposed.", "no better than chance", "Save the policy as it is");
        assertThat(browser.texts(".points tbody tr").stream()
                        .map(row -> row.contains("on the frontier"))
                        .toList())
                .as("as early as what is in force with fewer wrong alerts; then each that is earlier")
                .containsExactly(false, true, true, true, false, false);
        assertThat(saved("sweep-1.txt")).isEqualTo("Proposed: nothing.\n");
        assertThat(browser.violations()).isEmpty();
        browser.width(390);
        browser.until(
                "nothing is wider than a phone",
                b -> b.run("return document.documentElement.scrollWidth - document.documentElement.clientWidth")
                        .equals(0L));
        browser.width(1400);
        browser.all(".points .plain-button").get(4).click();
        browser.until(
                "it is in the changes",
                b -> b.texts(".draft .changes").toString().contains("→ 1 a machine-year"));
        twoNumbers();
    }

    /** Every combination of the first's five values and the second's three; both of one are taken. */
    private void twoNumbers() {
        browser.run("const s = document.querySelector('select[name=second]'); s.value = 'change.clear_hours';"
                + " s.dispatchEvent(new Event('change', {bubbles: true}))");
        browser.until("its ends", b -> !b.all("input[name=low2]").isEmpty());
        assertThat(browser.texts(".fold").toString()).contains("Every combination of both is tried: 15.");
        press("Try the values");
        browser.until("the table", b -> b.all(".points tbody tr").size() == 16);
        browser.all(".points .plain-button").get(0).click();
        browser.until(
                "both are in the changes",
                b -> b.texts(".draft .changes").toString().contains("→ 24 h")
                        && b.texts(".draft .changes").toString().contains("→ 0.02 a machine-year"));
        assertThat(browser.violations()).isEmpty();
    }

    @Test
    void analyst_marksAnAlert_saysOtherwise_andWithdrawsIt() {
        enterAs("Ana", Role.ANALYST, SiteScope.EVERY);
        browser.go(server.url(
                "/alerts/" + server.fleet().leading("ice-0003").finding().id()));
        browser.until("the marks", b -> b.texts("#marks").toString().contains("Nothing is marked yet."));
        press("Mark …");
        browser.find("dialog select[name=cause] option[value=scale]").click();
        inDialog("seen on its plots");
        browser.until("the mark", b -> b.texts("#marks .people").toString().contains("scale on the evaporator"));
        assertThat(browser.texts("#marks .people").toString())
                .contains("something was wrong", "seen on its plots", "Ana");
        press("Mark …");
        browser.find("dialog select[name=mark] option[value=not]").click();
        browser.until("no cause", b -> b.all("dialog select[name=cause]").isEmpty());
        inDialog("no, it was not");
        browser.until("the other", b -> b.texts("#marks .people").toString().contains("no, it was not"));
        assertThat(browser.texts("#marks summary")).containsExactly("One that counts no longer");
        press("Withdraw");
        browser.find("dialog .primary").click();
        browser.until("none", b -> b.texts("#marks").toString().contains("Nothing is marked yet."));
        assertThat(browser.texts("#marks summary")).containsExactly("2 that count no longer");
        assertThat(browser.violations()).isEmpty();
    }

    private void inDialog(String text) {
        browser.find("dialog textarea").sendKeys(text);
        assertThat(browser.violations()).isEmpty();
        browser.find("dialog .primary").click();
        browser.until("the dialogue is over", b -> b.all("dialog").isEmpty());
    }

    @Test
    void analyst_whoIsOvertaken_keepsTheChangesAndIsTold() {
        enterAs("Ana", Role.ANALYST, SiteScope.EVERY);
        write("0.5");
        server.bench().change(2, Map.of("change.clear_hours", 24.0), new Person("Ben"), "shorter");
        press("Put into force …");
        browser.find("dialog textarea").sendKeys("mine");
        browser.find("dialog .primary").click();
        browser.until("told", b -> b.texts("dialog .told").toString().contains("Version 3 was put into force by Ben"));
        browser.until("what is in force", b -> b.texts(".draft").toString().contains("Version 3 of Ben"));
        assertThat(browser.texts(".draft .changes").toString()).contains("→ 0.5");
        browser.find("dialog button[type=button]").click();
    }

    @Test
    void others_look_andChangeNothing() {
        server.bench().tryOut(Map.of(FakeBench.RATE, 0.5), new Person("Ana"), "are alerts earlier?");
        enterAs("Maren", Role.MANAGER, SiteScope.EVERY);
        browser.until("the trial", b -> b.texts("[data-trial]").toString().contains("Since it began"));
        assertThat(browser.all(".numbers-list input, #versions button, [data-trial] .buttons button, .draft"))
                .isEmpty();
        assertThat(browser.texts(".head").toString()).contains("takes an analyst or an administrator");
        assertThat(browser.texts("[data-trial] .mind")).isEmpty();
        looksAtTheFleet();
        server.bench().change(2, Map.of("change.clear_hours", 24.0), new Person("Ben"), "shorter");
        browser.go(server.url("/thresholds"));
        browser.until(
                "what promoting takes back",
                b -> b.texts("[data-trial] .mind")
                        .toString()
                        .contains("on top of version 2, and version 3 is in force by now"));
        assertThat(browser.violations()).isEmpty();
        browser.go("about:blank");
        browser.forgetCookies();
        enterAs("Olu of one site", Role.ANALYST, SiteScope.of(List.of("site-1")));
        assertThat(browser.texts("main").toString())
                .contains("name machines of every site")
                .doesNotContain("ice-0003");
        assertThat(browser.all(".numbers-list input")).isEmpty();
    }

    /** Whoever changes nothing here may ask this, since it changes nothing. */
    private void looksAtTheFleet() {
        assertThat(browser.texts("#fleet-look .well").toString()).contains("Nobody has looked yet");
        press("Look at the fleet");
        browser.until("the answer", b -> !b.all("[data-look='1']").isEmpty());
        assertThat(browser.texts("#fleet-look").toString())
                .contains(
                        "Of 24 machines that can be judged, 3 (12.5 %) are steadily off from what they should do: 2 with an alert meanwhile, 1 without.",
                        "4.2 deviations above",
                        "is missing from 92 % more cycles",
                        "2 machines: fewer than 30 cycles",
                        "asked by Maren");
        assertThat((String) browser.run("return document.querySelector('.fleet-look a').getAttribute('href')"))
                .startsWith("/machines/ice-0003?hours=336&to=");
        press("Look again");
        browser.until(
                "how far it is", b -> b.texts("#fleet-look").toString().contains("step 12 of 35, about 40 s left"));
        assertThat(browser.violations()).isEmpty();
        assertThat(server.bench().failLook("damaged: cycles-7.parquet is cut off or missing"))
                .isTrue();
        browser.until("why", b -> b.texts("#fleet-look .told").toString().contains("cycles-7.parquet is cut off"));
        assertThat(browser.all("[data-look='1']")).as("the last answer stays").isNotEmpty();
        press("Look again");
        browser.until("a way back", b -> b.texts("#fleet-look button").contains("Cancel"));
        press("Cancel");
        browser.until("told", b -> b.texts("#fleet-look").toString().contains("The last look was cancelled."));
        assertThat(browser.violations()).isEmpty();
    }

    /** What the browser is given to save: the blob of the link that is clicked, instead of a download. */
    private String saved(String name) {
        browser.run(
                "window.saved = ''; const [make, click] = [URL.createObjectURL, HTMLAnchorElement.prototype.click]; let text;"
                        + " URL.createObjectURL = (blob) => { text = blob.text(); return make(blob); };"
                        + " HTMLAnchorElement.prototype.click = function () { text.then((t) => { window.saved = this.download + ':' + t; }); };"
                        + " document.querySelector(`[data-save='${arguments[0]}']`).click();"
                        + " URL.createObjectURL = make; HTMLAnchorElement.prototype.click = click;",
                name);
        browser.until("the file", b -> b.run("return window.saved").toString().startsWith(name + ':'));
        return browser.run("return window.saved").toString().substring(name.length() + 1);
    }

    private void write(String value) {
        browser.run(
                "const i = document.querySelector(arguments[0]); i.value = arguments[1];"
                        + " i.dispatchEvent(new Event('change', {bubbles: true}))",
                RATE + " input[type=number]",
                value);
    }
}
