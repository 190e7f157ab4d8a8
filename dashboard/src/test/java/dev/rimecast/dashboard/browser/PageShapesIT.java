package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What every page does for people who see it otherwise: the text is enlarged, movement is not wanted. */
class PageShapesIT extends PageWalk {

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
}
