package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What every page does when its server is gone, and on paper. */
class PageStatesIT extends PageWalk {

    @ParameterizedTest
    @MethodSource("pages")
    void page_whoseServerIsGone_keepsWhatItHasAndSaysSinceWhen(Page page) {
        open(page);
        List<String> heading = browser.texts("h1");

        server.close();
        // as of somebody who comes back to this window
        browser.run("window.dispatchEvent(new Event('focus'))");

        browser.until("says that it is stale", b -> !b.all(".strip.stale").isEmpty());
        assertThat(browser.texts(".strip.stale").get(0))
                .matches("No live updates since .*\\d.*\\. What you see may be old.*");
        assertThat(browser.texts("h1")).isEqualTo(heading);
        browser.until(
                "the foot says so, too", b -> b.texts(".foot").toString().contains("State of the server not known"));
        assertThat(browser.violations()).isEmpty();
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
