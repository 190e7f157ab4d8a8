package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import org.openqa.selenium.Keys;

/**
 * Somebody without a mouse: goes from stop to stop by Tab, and must see at each of them where they are (WCAG 2.2, 2.1.1, 2.1.2,
 * 2.4.7 and 2.4.11).
 */
final class Keyboard {
    /** More than any page of the small fleet has; whoever needs more goes in circles, or is held. */
    private static final int MOST_STOPS = 250;

    /** What is wrong with the element that has the focus: nothing where it is the page itself, between its end and its beginning. */
    private static final String NOT_SEEN = """
            const e = document.activeElement;
            if (!e || e === document.body) return '';
            const name = e.outerHTML.slice(0, 120);
            const s = getComputedStyle(e);
            if (s.outlineStyle === 'none' || parseFloat(s.outlineWidth) < 2) return 'no ring: ' + name;
            const r = e.getBoundingClientRect();
            const inside = r.width > 0 && r.height > 0 && r.bottom > 0 && r.top < innerHeight && r.right > 0 && r.left < innerWidth;
            if (!inside) return 'out of the window: ' + name;
            const part = [...e.getClientRects()].find((c) => c.bottom > 0 && c.top < innerHeight);
            const top = document.elementFromPoint(
              Math.min(innerWidth - 1, Math.max(0, part.left + Math.min(part.width / 2, 20))),
              Math.min(innerHeight - 1, Math.max(0, (Math.max(0, part.top) + Math.min(innerHeight, part.bottom)) / 2)));
            return !top || e.contains(top) || top.contains(e) ? '' : 'behind ' + top.outerHTML.slice(0, 120) + ': ' + name""";

    private final Browser browser;

    Keyboard(Browser browser) {
        this.browser = browser;
    }

    /** Goes on to the next element of a selector; stays where it is one already. */
    void tabTo(String css) {
        tabTo(css, "");
    }

    /** The same, with just this text. */
    void tabTo(String css, String text) {
        for (int stops = 0; !isOn(css, text); stops++) {
            assertThat(stops).as("stops on the way to %s %s", css, text).isLessThan(MOST_STOPS);
            browser.keys(Keys.TAB);
            seesWhereItIs();
        }
        seesWhereItIs();
    }

    private boolean isOn(String css, String text) {
        return Boolean.TRUE.equals(browser.run(
                "const e = document.activeElement; return e.matches(arguments[0]) && (!arguments[1] || e.textContent.trim() === arguments[1])",
                css,
                text));
    }

    private void seesWhereItIs() {
        assertThat(browser.run(NOT_SEEN)).as("the focus is seen").isEqualTo("");
    }

    void press(CharSequence key) {
        browser.keys(key);
    }

    void type(String text) {
        browser.keys(text);
    }

    /** Whoever acted goes on from the content, not from the head of the page. */
    void hasAPlace(String after) {
        browser.until("nothing is asked any more " + after, b -> b.all("dialog").isEmpty());
        assertThat(browser.run("return document.activeElement.closest('main') !== null"))
                .as("the focus is in the content %s", after)
                .isEqualTo(true);
    }
}
