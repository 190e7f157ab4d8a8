package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** What plots paint is looked at pixel by pixel: their words and tables have tests of their own. */
class PaintedPlotsIT extends Bench {
    /**
     * Each plot's chart is kept with its place. A pixel is what is seen of it on the sheet; {@code column} is the share of a plot's height
     * in which its place in time is drawn in an ink, and {@code block} what most pixels around a place look like.
     */
    private static final String EYES = """
            let made;
            Object.defineProperty(window, 'uPlot', {configurable: true, get: () => made, set: (library) => {
              made = new Proxy(library, {construct: (target, args) => {
                args[2].chart = new target(...args);
                return args[2].chart;
              }});
            }});
            window.eyes = (() => {
              const rgba = (css) => {
                const one = new OffscreenCanvas(1, 1).getContext('2d');
                one.fillStyle = css;
                one.fillRect(0, 0, 1, 1);
                return [...one.getImageData(0, 0, 1, 1).data];
              };
              const on = (under, over) => over.slice(0, 3).map((v, i) => (v * over[3] + under[i] * (255 - over[3])) / 255);
              const ink = (name) => rgba(getComputedStyle(document.documentElement).getPropertyValue(name).trim());
              const chart = (plot) => document.querySelector(`[data-plot=${plot}]`).chart;
              const length = (v) => Math.hypot(...v);
              const less = (a, b) => a.map((v, i) => v - b[i]);
              function image(u, x, y, wide, high) {
                const {data} = u.ctx.getImageData(Math.round(x), Math.round(y), wide, high);
                const sheet = ink('--sheet');
                return (i, j) => on(sheet, [...data.slice((j * wide + i) * 4, (j * wide + i) * 4 + 4)]);
              }
              const drawn = (seen, beside, colour) => {
                const [way, went] = [less(colour, beside), less(seen, beside)];
                const part = went.reduce((sum, v, i) => sum + v * way[i], 0) / length(way) ** 2;
                return part > 0.3 && length(went.map((v, i) => v - part * way[i])) < 30;
              };
              return {
                chart,
                column(plot, time, name) {
                  const u = chart(plot), {top, height} = u.bbox, colour = on(ink('--sheet'), ink(name));
                  const pixel = image(u, u.valToPos(time, 'x', true) - 6, top, 9, height);
                  let found = 0;
                  for (let y = 0; y < height; y++) if ([5, 6, 7].some((x) => drawn(pixel(x, y), pixel(0, y), colour))) found++;
                  return found / height;
                },
                block(plot, x, y) {
                  const u = chart(plot), pixel = image(u, u.valToPos(x, 'x', true) - 2, u.valToPos(y, 'y', true) - 2, 5, 5);
                  const all = [0, 1, 2].map((c) => [...Array(25).keys()].map((i) => pixel(i % 5, Math.floor(i / 5))[c]).sort((a, b) => a - b));
                  return all.map((values) => values[12]);
                },
                far: (a, b) => length(less(a, b)),
                under: (colour, name) => on(colour, ink(name)),
              };
            })();""";

    @BeforeAll
    static void look() {
        browser.beforeEachPage(EYES);
    }

    @BeforeEach
    void openTheMachine() {
        open(720);
    }

    private void open(int hours) {
        browser.go(server.url("/machines/ice-0003?hours=" + hours));
        browser.until(
                "drawn",
                b -> Boolean.TRUE.equals(
                        b.run(
                                "return ['freeze', 'condensing']"
                                        + ".every(plot => document.querySelector(`[data-plot=${plot}] canvas`)?.parentElement.closest('[data-plot]').chart?.data[0].length > 9)")));
    }

    @Test
    void events_areLinesOnTheAxisOfEveryPlotOverTime() {
        double visited = seconds("(await ask('machines/ice-0003/events')).events.find(e => e.event === 'visit').time");
        double raised = seconds("(await ask('machines/ice-0003')).openAlerts[0].alert.raisedAt");
        for (String plot : List.of("freeze", "harvest", "condensing")) {
            browser.until(plot + " has the visit", b -> column(plot, visited, "--plot-d") > 0.7);
            assertThat(column(plot, raised, "--warm"))
                    .as("%s, an alert, dashed", plot)
                    .isBetween(0.3, 0.9);
            for (int days = 1; days <= 3; days++) {
                double nothing = visited - days * 86_400.0;
                assertThat(column(plot, nothing, "--plot-d"))
                        .as("%s, %d days before", plot, days)
                        .isLessThan(0.2);
                assertThat(column(plot, nothing, "--warm"))
                        .as("%s, %d days before", plot, days)
                        .isLessThan(0.2);
            }
        }
    }

    @Test
    void outlook_isAWedgeFromTheLastCycleToTheLimitBetweenItsDates() {
        double early = limitExpected("early");
        double late = limitExpected("late");
        double limit =
                ((Number) run("return (await ask('machines/ice-0003')).limits.condensingCelsius.value")).doubleValue();
        double[] last = point("const u = eyes.chart('condensing'); return [u.data[0].at(-1), u.data[1].at(-1)]");
        assertThat(early).isBetween(last[0], late);
        assertThat(number("return eyes.chart('condensing').scales.x.max"))
                .as("the axis reaches it")
                .isGreaterThan(late);

        for (double up : new double[] {0.5, 0.7}) {
            double y = last[1] + up * (limit - last[1]);
            double left = last[0] + up * (early - last[0]);
            double right = last[0] + up * (late - last[0]);
            for (double across : new double[] {0.2, 0.85}) {
                assertThat(off(left + across * (right - left), y, "--outlook"))
                        .as("inside, %s up and %s across", up, across)
                        .isLessThan(12);
            }
            double wide = right - left;
            assertThat(off(left - 0.25 * wide, y, "--outlook"))
                    .as("before it, %s up", up)
                    .isGreaterThan(20);
            assertThat(off(right + 0.25 * wide, y, "--outlook"))
                    .as("after it, %s up", up)
                    .isGreaterThan(20);
        }
        for (double end : new double[] {early, late}) {
            assertThat(number(
                            "return eyes.far(eyes.block('condensing', arguments[0], arguments[1]), eyes.under([0, 0, 0], '--warm'))",
                            end,
                            limit))
                    .as("a dot where the limit may be reached")
                    .isLessThan(25);
        }
    }

    /** How far a place of the plot is from the sheet with this ink on it. */
    private static double off(double x, double y, String ink) {
        return number(
                "return eyes.far(eyes.block('condensing', arguments[0], arguments[1]), eyes.under(eyes.under([0, 0, 0], '--sheet'), arguments[2]))",
                x,
                y,
                ink);
    }

    @Test
    void band_isWhatIsUsualAroundTheExpectationOfEachCycle() {
        // so that points don't hide it
        open(48);
        double[] shares = point("""
                const [cycles, u] = [await ask('machines/ice-0003/cycles?from=' + new Date(Date.now() - 49 * 3600e3).toISOString()
                  + '&to=' + new Date().toISOString()), eyes.chart('freeze')];
                const [at, most, least, expected] = u.data;
                const known = new Map(cycles.map(c => [Date.parse(c.freezeStart) / 1000, c.expected.freeze]));
                let [right, judged, inside, outside, looked] = [0, 0, 0, 0, 0];
                at.forEach((time, i) => {
                  const e = known.get(time);
                  if (!e) return;
                  judged++;
                  if (Math.abs(most[i] - e.value - 2 * e.sigma) < 0.01 && Math.abs(least[i] - e.value + 2 * e.sigma) < 0.01 && expected[i] === e.value) right++;
                  if (i % 3) return;
                  looked++;
                  const above = eyes.block('freeze', time, most[i] + 0.35 * (most[i] - least[i]));
                  const banded = eyes.under(above, '--band');
                  if (eyes.far(eyes.block('freeze', time, e.value + 1.6 * e.sigma), banded) < 12) inside++;
                  if (eyes.far(above, banded) > 12) outside++;
                });
                return [judged, right / judged, looked, inside / looked, outside / looked]""");

        assertThat(shares[0]).as("cycles with an expectation").isGreaterThan(30);
        assertThat(shares[1])
                .as("share of edges that are two standard deviations off")
                .isEqualTo(1);
        assertThat(shares[2]).as("places looked at").isGreaterThan(10);
        assertThat(shares[3]).as("share of those painted inside").isGreaterThan(0.7);
        assertThat(shares[4]).as("share of those not painted above").isGreaterThan(0.9);
    }

    private static double column(String plot, double time, String ink) {
        return number("return eyes.column(arguments[0], arguments[1], arguments[2])", plot, time, ink);
    }

    private static double limitExpected(String which) {
        return seconds(
                "(await ask('machines/ice-0003')).openAlerts.find(a => a.alert.limitExpected && a.measure.quantity === 'split')"
                        + ".alert.limitExpected." + which);
    }

    private static double seconds(String time) {
        return ((Number) run("return Date.parse(" + time + ") / 1000")).doubleValue();
    }

    private static double number(String script, Object... arguments) {
        return ((Number) browser.run(script, arguments)).doubleValue();
    }

    private static double[] point(String script) {
        return ((List<?>) run(script))
                .stream().mapToDouble(value -> ((Number) value).doubleValue()).toArray();
    }

    /** With what the API answers at hand. */
    private static Object run(String script) {
        return browser.runAsync(
                "const done = arguments[0], ask = async (path) => (await fetch('/api/v1/' + path)).json();"
                        + "(async () => {" + script + "})().then(done, e => done(String(e)))");
    }
}
