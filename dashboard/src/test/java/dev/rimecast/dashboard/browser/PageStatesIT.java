package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.dashboard.fake.FakeServer;
import java.util.List;
import java.util.function.Function;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * What every page does when it is not looked at in the best of circumstances: the server is gone, the text is enlarged,
 * movement is not wanted.
 */
class PageStatesIT extends Bench {

    /**
     * @param name as in the test's report
     * @param path of the page on a small fleet
     * @param heading its first heading, once it has loaded
     */
    record Page(String name, Function<FakeServer, String> path, String heading) {
        Page(String path, String heading) {
            this(path, server -> path, heading);
        }

        @Override
        public String toString() {
            return name;
        }
    }

    static Stream<Page> pages() {
        return Stream.of(
                new Page("/", "Fleet"),
                new Page("/alerts?finished=true", "Alerts"),
                new Page(
                        "/alerts/{id}",
                        server -> "/alerts/"
                                + server.fleet().leading("ice-0003").finding().id(),
                        ""),
                new Page("/cases?finished=true", "Cases"),
                new Page("/machines/ice-0003", "ice-0003"),
                new Page("/machines/ice-0001", "ice-0001"),
                new Page("/visits", "Visits"),
                new Page("/visits?view=site&ended=true", "Visits"),
                new Page("/visits/{id}", PageStatesIT::sheet, "Visit to"),
                new Page("/work-report/ice-0003", "Work on ice-0003"),
                new Page("/care/ice-0003", "Care record of ice-0003"),
                new Page("/commissioning/ice-0003", "Commissioning of ice-0003"),
                new Page("/figures", "How work does"),
                new Page("/events", "What happened"),
                new Page("/notices", "Notices"),
                new Page("/rules", "Rules"),
                new Page("/rules/priority", "How urgent an alert is"),
                new Page("/system", "System"),
                new Page("/account", "Your account"),
                new Page("/tokens", "API tokens"),
                new Page("/accounts", "Accounts"),
                new Page("/nothing/here", "Nothing here"));
    }

    /** Of a visit for a machine whose plots it draws. */
    private static String sheet(FakeServer server) {
        return "/visits/"
                + server.visits().list(SiteScope.EVERY, Visits.Filter.OPEN).stream()
                        .filter(visit -> visit.needs().stream()
                                .anyMatch(planned -> planned.need().machines().contains("ice-0003")))
                        .findFirst()
                        .orElseThrow()
                        .id();
    }

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

    /** WCAG 2.2, 1.4.10: 320 CSS pixels, as 400 % of 1280, without scrolling in two dimensions; and 1.4.4: 200 %. */
    @ParameterizedTest
    @MethodSource("pages")
    void page_enlarged_doesNotScrollSideways(Page page) {
        for (int width : List.of(640, 320)) {
            browser.width(width);
            open(page);
            assertThat((Number) browser.run(
                            "return document.documentElement.scrollWidth - document.documentElement.clientWidth"))
                    .as("how far %s scrolls sideways at %d", page, width)
                    .isEqualTo(0L);
            assertThat((List<?>) browser.run(CUT))
                    .as("cut off on %s at %d", page, width)
                    .isEmpty();
        }
    }

    /** Elements with text that reach out of the window and cannot be scrolled to. */
    private static final String CUT = """
            const scrolls = (e) => e && (/auto|scroll/.test(getComputedStyle(e).overflowX) || scrolls(e.parentElement));
            return [...document.querySelectorAll('body *')]
              .filter((e) => [...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim()))
              .filter((e) => { const r = e.getBoundingClientRect();
                return r.width > 1 && r.right > innerWidth + 1 && getComputedStyle(e).clipPath === 'none' && !scrolls(e.parentElement); })
              .map((e) => e.tagName + '.' + e.className + ': ' + e.textContent.trim().slice(0, 60))""";

    @ParameterizedTest
    @MethodSource("pages")
    void page_forWhoWantsNoMovement_moves_nothing(Page page) {
        browser.media("prefers-reduced-motion", "reduce");
        open(page);

        assertThat((List<?>) browser.run("""
                                return [document.documentElement, ...document.querySelectorAll('body *')]
                                  .filter((e) => { const s = getComputedStyle(e);
                                    return /[1-9]/.test(s.animationName === 'none' ? '' : s.animationDuration)
                                      || /[1-9]/.test(s.transitionDuration) || s.scrollBehavior === 'smooth'; })
                                  .map((e) => e.tagName + '.' + e.className)""")).isEmpty();
        assertThat((Number) browser.run("return document.getAnimations().length"))
                .isEqualTo(0L);
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

    private boolean entered;

    private void open(Page page) {
        if (!entered) {
            server.account("administrator", Role.ADMINISTRATOR, SiteScope.EVERY);
            browser.go(server.url("/sign-in"));
            button("Enter as administrator").click();
            browser.find(".row");
            entered = true;
        }
        browser.go(server.url(page.path().apply(server)));
        browser.until(
                "has loaded",
                b -> b.texts("h1").stream().anyMatch(h -> h.contains(page.heading()) && !h.equals("Alert")));
        browser.until("foot is there", b -> b.texts(".foot").toString().contains("version"));
        if (page.name().startsWith("/machines/")) {
            browser.until("plots are there", b -> b.all(".canvas canvas").size() == 9);
        }
        if (page.name().equals("/visits/{id}")) {
            browser.until("plots are there", b -> !b.all(".proving canvas").isEmpty());
        }
    }

    /** Texts of what takes room on the page. */
    @SuppressWarnings("unchecked")
    private static List<String> shown(String css) {
        return (List<String>) browser.run(
                "return [...document.querySelectorAll(arguments[0])].filter(e => e.getClientRects().length > 0).map(e => e.textContent)",
                css);
    }
}
