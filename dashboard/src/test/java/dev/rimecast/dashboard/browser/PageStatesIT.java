package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What every page does while it loads, when it cannot, when its server is gone, and on paper. */
class PageStatesIT extends PageWalk {
    /**
     * What each page asks for comes never, or is a failure of the server; who has come in and how the server is, it hears. The first
     * page is as one whose rows took too long to be put into it.
     */
    private static final String AS_IF = """
            document.addEventListener('readystatechange', () => {
              if (sessionStorage.getItem('as-if')) document.getElementById('first')?.remove();
            });
            const ask = window.fetch;
            window.fetch = (address, options) => {
              const as = sessionStorage.getItem('as-if');
              const path = new URL(address, location.href).pathname;
              if (!as || !path.startsWith('/api/v1/') || /[/](session|status)$/.test(path)) return ask(address, options);
              if (as === 'silent') return new Promise(() => {});
              return Promise.resolve(new Response(JSON.stringify({type: 'urn:rimecast:problem:internal', title: 'Failed', status: 500,
                detail: 'the disk is full', instance: path}), {status: 500, headers: {'Content-Type': 'application/problem+json'}}));
            };""";

    private static final String LOADING = "Loading …";

    /** These ask again by themselves, and have no button for it. */
    private static final List<String> ASK_AGAIN =
            List.of("/wall#{link}", "/site-check#{link}", "/work-report/ice-0003", "/commissioning/ice-0003");

    @BeforeAll
    static void asIf() {
        browser.beforeEachPage(AS_IF);
    }

    @AfterEach
    void asItIs() {
        asIf("");
    }

    private static void asIf(String what) {
        browser.run("sessionStorage.setItem('as-if', arguments[0])", what);
    }

    /** As on a device that has kept nothing of what it was shown. */
    private static void keepNothing() {
        browser.runAsync(
                "const done = arguments[0]; localStorage.clear();"
                        + "caches.keys().then((names) => Promise.all(names.map((name) => caches.delete(name)))).then(() => done())");
    }

    /** All that show something of the server's. */
    static Stream<Page> pagesThatLoad() {
        Set<String> ofThemselves = Set.of("/nothing/here", "/sign-in", "/set-up#a-link", "/choose-password#a-link");
        return pages().filter(page -> !ofThemselves.contains(page.name()));
    }

    @ParameterizedTest
    @MethodSource("pagesThatLoad")
    void page_whileItLoads_saysSo_andWhereItCannot_saysWhyAndTriesAgain(Page page) {
        keepNothing();
        asIf("silent");
        visit(page);
        browser.until("it loads", b -> b.texts("main").toString().contains(LOADING));
        assertThat(browser.texts("h1")).as("headings while it loads").hasSize(1);
        assertThat(shown("main [role=alert]")).as("nothing is wrong").allMatch(String::isEmpty);
        assertThat(browser.violations()).as("while it loads").isEmpty();

        asIf("failing");
        browser.phone();
        visit(page);
        browser.until("says that it can't", b -> !told().isEmpty());
        assertThat(browser.texts("main").toString()).doesNotContain(LOADING);
        assertThat(browser.texts("h1")).as("headings where it can't").hasSize(1);
        assertThat((Number) browser.run("return document.documentElement.scrollWidth"))
                .as("how wide it is on a phone")
                .isEqualTo(390L);
        assertThat(browser.violations()).as("where it can't").isEmpty();

        if (ASK_AGAIN.contains(page.name())) {
            return;
        }
        assertThat(told()).contains("the disk is full");
        asIf("");
        press("Try again");
        browser.until(
                "it is there",
                b -> told().isEmpty()
                        && !shown("main [role=status].quietly").contains(LOADING)
                        && b.texts("h1").toString().contains(page.heading()));
    }

    /** What could not be loaded. What the pages of care and notices say first is what they have, in a box of the same kind. */
    private static String told() {
        return shown(
                        "main .notice:not([data-without]):not([data-failed]), main [data-offline], main .told[role=alert], main [role=status].quietly")
                .stream()
                .filter(text -> !text.equals(LOADING))
                .collect(Collectors.joining(" "))
                .strip();
    }

    @ParameterizedTest
    @MethodSource("pagesInside")
    void page_whoseServerIsGone_keepsWhatItHasAndSaysSinceWhen(Page page) {
        open(page);
        List<String> heading = browser.texts("h1");

        int port = server.fallSilent();
        try {
            // as of somebody who comes back to this window
            browser.run("window.dispatchEvent(new Event('focus'))");

            browser.until("says that it is stale", b -> !b.all(".strip.stale").isEmpty());
            assertThat(browser.texts(".strip.stale").get(0))
                    .matches("No live updates since .*\\d.*\\. What you see may be old.*");
            assertThat(browser.texts("h1")).isEqualTo(heading);
            browser.until(
                    "the foot says so, too",
                    b -> b.texts(".foot").toString().contains("State of the server not known"));
            assertThat(browser.violations()).isEmpty();
        } finally {
            server.answerAgain(port);
        }
    }

    @ParameterizedTest
    @MethodSource("pages")
    void page_printed_showsNoControls(Page page) {
        open(page);
        browser.printed();

        assertThat(shown("nav, .bar button, .units, .filter, .buttons button")).isEmpty();
        assertThat(shown("h1")).hasSize(1);
    }

    static Stream<Page> pagesWithAdvice() {
        return pages().filter(page ->
                page.name().equals("/alerts/{id}") || page.name().equals("/machines/ice-0003"));
    }

    @ParameterizedTest
    @MethodSource("pagesWithAdvice")
    void advice_printed_standsAloneWithItsMachineAndCautions(Page page) {
        open(page);
        browser.find(".advice .cautions");
        // no dialog of the browser: what it would print is looked at instead
        browser.run("window.print = () => {}");
        press("Print the advice");
        browser.printed();

        assertThat(shown(".advice .cautions")).isNotEmpty();
        assertThat(shown(".advice .checks")).isNotEmpty();
        assertThat(shown("main").toString()).contains("ice-0003");
        assertThat(shown(".bar, .foot, .strip, .question, .tiles, .plot, .history, .facts, main button"))
                .isEmpty();

        browser.run("window.dispatchEvent(new Event('afterprint'))");
        browser.media("prefers-color-scheme", "light");
        assertThat(shown(".foot")).hasSize(1);
    }
}
