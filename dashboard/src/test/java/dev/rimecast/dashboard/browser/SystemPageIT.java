package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.machine.Machine;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** What whoever runs the product looks for. */
class SystemPageIT extends Bench {
    private static final String FAILS = """
            const ask = window.fetch;
            window.fetch = (address, options) => sessionStorage.getItem('fails') && /[/](session|system|status)$/.test(address)
              ? Promise.resolve(new Response(JSON.stringify({type: 'urn:rimecast:problem:internal', title: 'Failed', status: 500, detail: 'the disk is full'}),
                  {status: 500, headers: {'Content-Type': 'application/problem+json'}}))
              : ask(address, options);""";

    /** Every gateway is heard, the lists come as a test wishes, and a minute is a second. */
    private static final String LISTS = """
            const of = window.fetch;
            const every = window.setInterval;
            window.setInterval = (what, ms) => every(what, ms === 60000 && sessionStorage.getItem('lists') ? 1000 : ms);
            const answer = (body, status = 200) => new Response(JSON.stringify(body), {status, headers: {'Content-Type': 'application/json'}});
            window.fetch = async (address, options) => {
              const lists = sessionStorage.getItem('lists');
              if (lists && /[/]system$/.test(address)) return answer({...await (await of(address, options)).json(), gateways: []});
              if (!lists || !/[/](rejects|dead-letters|unclaimed)([?]|$)/.test(address)) return of(address, options);
              if (lists === 'silent') return new Promise(() => {});
              if (lists === 'failing') return answer({detail: 'the disk is full'}, 500);
              if (lists === 'none' || /unclaimed$/.test(address)) return answer([]);
              const some = await (await of(address, options)).json();
              const most = Number(new URL(address, location.href).searchParams.get('limit') ?? 20);
              return answer(Array.from({length: Math.min(most, 130)}, (_, i) => ({...some[0], id: 'x-' + i, open: i > 0})));
            };""";

    @BeforeAll
    static void fails() {
        browser.beforeEachPage(FAILS);
        browser.beforeEachPage(LISTS);
    }

    @AfterEach
    void asItIs() {
        browser.run("sessionStorage.clear()");
    }

    private static String wants() {
        return String.join(" ", browser.texts(".wants"));
    }

    /** An all-clear is said of what is known alone, and of how it is now. */
    @Test
    void wants_withoutTheLists_saysNoAllClear_andLooksAgainByItself() {
        enter(Role.ADMINISTRATOR);
        browser.run("sessionStorage.setItem('lists', 'silent')");
        browser.go(server.url("/system"));
        browser.until("it loads", b -> wants().contains("Loading"));
        assertThat(wants()).doesNotContain("Nothing");

        browser.run("sessionStorage.setItem('lists', 'failing')");
        browser.go(server.url("/system"));
        browser.until("it can't", b -> wants().contains("is not known"));
        assertThat(wants()).doesNotContain("Nothing");

        browser.run("sessionStorage.setItem('lists', 'none')");
        browser.until("all is known", b -> wants().contains("Nothing: every stage works"));
        assertThat(wants()).doesNotContain("not known");

        browser.run("sessionStorage.setItem('lists', 'many')");
        browser.until("more than an answer has", b -> wants().contains("records could not be processed"));
        browser.until("of both lists", b -> wants().contains("messages of the last day"));
        assertThat(browser.texts(".wants a"))
                .containsExactly(
                        "At least 99 records could not be processed",
                        "Of at least 100 messages of the last day something was not taken");
        assertThat(browser.violations()).isEmpty();
    }

    private void enter(Role role) {
        String name = role.code();
        server.account(name, role, SiteScope.EVERY);
        browser.go(server.url("/sign-in"));
        button("Enter as " + name).click();
        browser.find(".row");
    }

    @Test
    void system_seenByAnAdministrator_saysWhatPassesWaitsAndWasNotTaken() {
        browser.complaints();
        enter(Role.ADMINISTRATOR);
        browser.find("nav a[href='/system']").click();
        browser.find("[data-unclaimed=ice-9001]");

        assertThat(browser.texts("[data-unclaimed=ice-9001]").toString()).contains("behind gateway gw-1, site site-1");
        browser.until(
                "what wants somebody stands first", b -> b.texts(".wants li").size() == 4);
        assertThat(browser.texts(".wants a"))
                .containsExactly(
                        "2 records could not be processed",
                        "1 of 6 gateways silent for more than 35 minutes",
                        "2 machines send readings and are in no register",
                        "Of 2 messages of the last day something was not taken");
        assertThat(browser.all(".wants a"))
                .as("each leads to its section")
                .allSatisfy(link -> assertThat(browser.all("section h2" + link.getDomAttribute("href")))
                        .hasSize(1));
        assertThat(browser.texts("section[aria-labelledby=rejects] li b"))
                .contains("a channel that is not known", "no SenML");
        assertThat(browser.texts("section[aria-labelledby=rejects] pre").toString())
                .contains("ice-0003/", "ff 10");
        assertThat(browser.texts("section[aria-labelledby=gateways] tbody tr").get(0))
                .contains("gw-4", "offline", "silent");
        assertThat(browser.texts("section[aria-labelledby=base]").toString())
                .contains("40.0 GB of 100.0 GB free (40 %)");
        for (String scheme : new String[] {"light", "dark"}) {
            browser.scheme(scheme);
            assertThat(browser.violations()).as(scheme).isEmpty();
        }
        browser.scheme("light");
        browser.phone();
        assertThat((Number) browser.run("return document.documentElement.scrollWidth"))
                .isEqualTo(390L);
        assertThat(browser.complaints()).isEmpty();
    }

    /** Whoever could not be asked who they are sees all the same what they may see. */
    @Test
    void system_whoseSessionFailedToo_isThereInFullAfterTryAgain() {
        enter(Role.ADMINISTRATOR);
        browser.run("sessionStorage.setItem('fails', 'yes')");
        browser.go(server.url("/system"));
        browser.until(
                "says that it can't", b -> b.texts("[role=alert]").toString().contains("the disk is full"));
        browser.run("sessionStorage.clear()");
        press("Try again");

        browser.find("[data-unclaimed=ice-9001]");
        browser.find("nav a[href='/system']");
    }

    @Test
    void machine_claimedBehindANewGateway_isInTheRegister_andTakenOutAgain() {
        browser.complaints();
        enter(Role.ADMINISTRATOR);
        browser.go(server.url("/system"));
        browser.find("[data-unclaimed=ice-9002] button").click();
        browser.find("dialog option[value='+']").click();
        browser.find("dialog input[name=newSite]").sendKeys("quayside");
        browser.find("dialog input[name=model_group]").sendKeys("cube-50");
        browser.find("dialog summary").click();
        browser.find("dialog input[name=rated_kg_per_day]").sendKeys("62");
        browser.find("dialog input[name=bin_kg]").sendKeys("20000");
        assertThat(browser.violations()).as("the question").isEmpty();
        button("Claim it").click();
        browser.until(
                "what is wrong, as of a file",
                b -> b.texts("dialog [role=alert]").toString().contains("bin_kg: must be"));
        browser.find("dialog input[name=bin_kg]").clear();
        button("Claim it").click();

        browser.find("[data-claimed=ice-9002]");
        assertThat(claims()).contains("ice-9002 is in the register, on site quayside", "claimed by administrator");
        assertThat(browser.all("[data-unclaimed=ice-9002]")).as("waits no more").isEmpty();
        assertThat(browser.violations()).isEmpty();

        browser.find("[aria-label='Take out: ice-9002']").click();
        button("Take it out").click();
        browser.find("[data-unclaimed=ice-9002]");
        assertThat(claims()).contains("ice-9002 is out of the register");

        // somebody else is faster
        browser.find("[data-unclaimed=ice-9001] button").click();
        assertThat(browser.texts("dialog").toString()).contains("On site site-1, where gateway gw-1 stands");
        server.claims().claim("Ada", Machine.basic("ice-9001", "site-1", "gw-1"), false);
        button("Claim it").click();
        browser.until("says who", b -> b.texts("dialog [role=alert]").toString().contains("claimed by Ada"));
        browser.find("[data-claimed=ice-9001]");
        assertThat(browser.complaints())
                .as("nothing but the answers that were asked for")
                .allMatch(line -> line.contains("409") || line.contains("400"));
    }

    private String claims() {
        return browser.texts("section[aria-labelledby=unclaimed]").toString();
    }

    @Test
    void stages_eachOne_saysItsRateAndHowFarBehindItIs() {
        enter(Role.ADMINISTRATOR);
        browser.go(server.url("/system"));
        browser.until("an answer", b -> line("analytics").contains("38 s behind"));
        server.figures().pass(1_200);
        browser.until("the next one", b -> line("history").contains(" records a minute"));

        assertThat(line("ingest")).contains(" readings a minute", "Kafka confirms");
        assertThat(line("analytics")).contains(" readings a minute", "38 s behind");
        assertThat(line("alerts")).contains(" records a minute", "2 findings wait");
        assertThat(line("history")).contains("the oldest record waits 75 s for its file");
        assertThat(browser.all(".stageline .warmly"))
                .as("nothing is beyond its limit")
                .isEmpty();

        // of what the last fetch knew, which says next to nothing of a queue
        server.figures().stand("rimecast.analytics.lag", 1);
        server.figures().stand("rimecast.analytics.behind.seconds", 420);
        browser.until("it is behind", b -> line("analytics").contains("420 s behind"));
        assertThat(browser.texts(".stageline .warmly")).containsExactly("420 s behind");
        assertThat(browser.texts("section[aria-labelledby=stages] td .warmly")).containsExactly("420 s");
        assertThat(browser.violations()).isEmpty();
    }

    private String line(String stage) {
        return String.join("", browser.texts("[data-stage=" + stage + "]"));
    }

    @Test
    void reject_takenAgainByAnAdministrator_staysWithWhoDidItAndWhatCameOfIt() {
        browser.complaints();
        enter(Role.ADMINISTRATOR);
        browser.go(server.url("/system"));
        browser.find("[data-replay='0-7']").click();

        browser.until(
                "it says what came of it",
                b -> b.texts("section[aria-labelledby=rejects]").toString().contains("1 readings stored"));
        assertThat(browser.texts("section[aria-labelledby=rejects]").toString())
                .contains("Taken again by Ada", "Taken again by administrator");
        assertThat(browser.all("[data-replay='0-7']"))
                .as("nothing is left of it")
                .isEmpty();
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void deadLetter_takenAgain_staysWithWhoDidIt_andAMinuteSaysWhyNot() {
        browser.complaints();
        enter(Role.ADMINISTRATOR);
        browser.go(server.url("/system"));
        browser.find("[data-letter] [data-retake]").click();

        browser.until(
                "its stage has it",
                b -> b.texts("section[aria-labelledby=letters]").toString().contains("its stage has it"));
        assertThat(browser.texts("section[aria-labelledby=letters]").toString())
                .contains("no member machine", "Taken again by Ada", "could not be processed again")
                .contains("Taken again by administrator")
                .contains("A minute that has passed can't pass again");
        assertThat(browser.all("[data-retake]")).as("nothing is left to take").isEmpty();
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void gatewayKeys_givenRenewedAndTakenBack_sayWhatHolds() {
        browser.complaints();
        enter(Role.ADMINISTRATOR);
        browser.go(server.url("/system"));
        browser.until("nobody has one", b -> keys().contains("No gateway has a key yet"));

        button("Give a key").click();
        browser.find("dialog input[name=gateway]").sendKeys("gw-1");
        assertThat(browser.violations()).as("the question").isEmpty();
        button("Give it").click();
        browser.find("[data-keys=gw-1]");
        String secret =
                browser.texts("section[aria-labelledby=keys] .once code").get(0);
        assertThat(secret).hasSizeGreaterThan(30);
        assertThat(keys()).contains("One gateway has been given a key", "by administrator");

        browser.find("[aria-label='New secret: gw-1']").click();
        button("Make it").click();
        browser.until(
                "another secret",
                b -> b.texts("section[aria-labelledby=keys] .once code").stream()
                        .noneMatch(secret::equals));
        assertThat(keys()).contains("holds until");

        browser.find("[aria-label^='Take this one back: gw-1 ']").click();
        assertThat(browser.texts("dialog").toString()).contains("gw-1", "Secret", "other keys hold on");
        button("Take it back").click();
        browser.until(
                "one is left",
                b -> b.all("[aria-label^='Take this one back: gw-1 ']").isEmpty());
        assertThat(keys()).contains("One key that has ended").doesNotContain("locked out");

        browser.find("[aria-label='Take all back: gw-1']").click();
        button("Take them back").click();
        browser.until("nothing lets it in", b -> keys().contains("locked out: no key in force"));
        assertThat(browser.all("section[aria-labelledby=keys] .once"))
                .as("no secret stays on the page")
                .isEmpty();
        assertThat(browser.violations()).isEmpty();

        button("Give a key").click();
        browser.find("dialog input[name=gateway]").sendKeys("gw-2");
        browser.find("dialog input[value=certificate]").click();
        browser.find("dialog textarea[name=certificate]").sendKeys("no certificate");
        button("Give it").click();
        browser.until(
                "says what is wrong",
                b -> b.texts("dialog [role=alert]").toString().contains("no X.509"));
        assertThat(browser.complaints())
                .as("nothing but the answer that was asked for")
                .allMatch(line -> line.contains("409") || line.contains("400"));
    }

    private String keys() {
        return browser.texts("section[aria-labelledby=keys]").toString();
    }

    @Test
    void system_ofAnOperator_isNotInTheMenuAndIsRefused() {
        enter(Role.OPERATOR);
        browser.until("the menu is there", b -> !b.all("nav a[href='/notices']").isEmpty());
        assertThat(browser.all("nav a[href='/system']")).isEmpty();

        browser.go(server.url("/system"));
        browser.until("says why not", b -> !b.texts("[role=alert]").isEmpty());
    }
}
