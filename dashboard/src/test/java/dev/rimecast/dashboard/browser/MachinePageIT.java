package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.WebElement;

/** What an engineer looks for on the page of a machine. */
class MachinePageIT extends Bench {
    private static final int PLOTS = 9;

    private void open(String machine) {
        browser.go(server.url("/machines/" + machine));
        browser.until(
                "every plot is drawn",
                b -> b.all(".canvas:not(.proof .canvas) canvas").size() == PLOTS);
    }

    @Test
    void machine_opened_drawsEveryPlotWithATableBesideIt() {
        open("ice-0003");

        assertThat(browser.all(".plots details.table table")).hasSize(PLOTS - 1);
        assertThat(browser.all("table.judged")).as("of the last cycle").hasSize(1);
        assertThat((Number) browser.run("return document.querySelectorAll('[data-plot=pull-down]').length"))
                .isEqualTo(1L);
        browser.find(".spans[role=group] button").click();
        browser.until(
                "one day is chosen",
                b -> b.run("return location.search").toString().equals("?hours=24"));
    }

    @Test
    void now_ofAMachineWithTrouble_saysInWordsWhatIsOff() {
        open("ice-0003");

        assertThat(browser.texts(".head .lead").toString())
                .contains("It is freezing.", "The room is at 25.1 °C.", "Its last cycle ended")
                .contains("Not as it should be in these conditions:", "split over room air")
                .contains("complete cycles in the last 24 h");
    }

    @Test
    void now_ofAHealthyMachine_blamesNothingThatIsUsual() {
        open("ice-0001");

        for (String row : browser.texts("table.judged tbody tr")) {
            boolean isOff = row.contains("longer") || row.contains("shorter") || row.contains("higher");
            assertThat(row.contains("as it should be") || row.contains("not judged"))
                    .as(row)
                    .isEqualTo(!isOff);
        }
    }

    @Test
    void lastCycle_steppedBackAndForth_showsThatCycle() {
        open("ice-0003");
        List<String> newest = browser.texts(".cycle time");
        assertThat(browser.texts("#last-cycle")).containsExactly("The last cycle");
        assertThat(browser.texts("table.judged tbody th"))
                .contains("Pull-down to 0 °C", "Freeze", "Harvest", "Split over room air");

        button("‹ Cycle before").click();
        browser.until("another one", b -> !b.texts(".cycle time").equals(newest));
        assertThat(browser.texts("#last-cycle")).containsExactly("An earlier cycle");
        assertThat(browser.texts(".cycle .hint").toString())
                .as("its curve is there")
                .doesNotContain("not kept");
        assertThat(browser.violations()).isEmpty();
        button("Cycle after ›").click();
        browser.until("back again", b -> b.texts(".cycle time").equals(newest));
    }

    @Test
    void evidence_aboutAQuantity_standsBesideItsPlot() {
        open("ice-0003");

        assertThat(browser.texts("section.plot:has([data-plot=harvest]) .beside-plot .for")
                        .toString())
                .contains("air cannot get through the condenser", "Harvest is a little shorter");
        assertThat(browser.all("section.plot:has([data-plot=drain]) .beside-plot"))
                .isEmpty();
    }

    @Test
    void repair_beingProved_saysWhetherItHasHeldSoFar() {
        open("ice-0003");

        assertThat(browser.texts("section:has(> #proof) > article .lead").toString())
                .contains("Held so far.", "expected 2.9 ± 0.4", "one more cycle makes it certain");
        assertThat(browser.texts("section:has(> #proof) > article table.proved tbody tr"))
                .singleElement()
                .asString()
                .containsSubsequence("Pull-down", "234 s", "186 s", "174 s ± 24 s");
        browser.until(
                "the plot of what was to be mended",
                page -> !page.all("article.proof [data-plot=proof-pull-down] canvas")
                        .isEmpty());
        assertThat(browser.texts("article.proof h4")).singleElement().asString().contains("before and after the work");
        assertThat(browser.all("article.proof .plot details table tbody tr")).isNotEmpty();
        assertThat(browser.texts("section:has(> #proof) > details summary").toString())
                .contains("One earlier job");
    }

    @Test
    void repair_neverRecorded_isNotSpokenOf() {
        open("ice-0001");

        assertThat(browser.all("#proof")).isEmpty();
    }

    @Test
    void care_recorded_isListedWithItsLastTime() {
        open("ice-0003");

        assertThat(browser.texts("table.care tbody tr"))
                .hasSize(3)
                .anyMatch(row -> row.startsWith("Cleaned") && row.contains("Pim") && row.contains("J-2201"))
                .anyMatch(row -> row.startsWith("Air filter washed") && row.contains("never reported"));
    }

    @Test
    void plots_ofAnAlertWithADate_sayTheLimitAndTheOutlook() {
        open("ice-0003");

        assertThat(caption("condensing")).contains("Latest: ", "°C", "The wedge joins");
        assertThat(caption("pull-down")).contains("should be ", "The limit, ", "is above this picture");
        assertThat(caption("split")).contains("Latest: ", " K");
        assertThat(browser.texts("section.plot:has([data-plot=freeze]) .scroll tbody tr")
                        .get(0))
                .as("cycle, measured, expected")
                .matches("(?s).*\\d+ min \\d+ s\\s*\\d+ min \\d+ s\\s*");
    }

    private static String caption(String plot) {
        return String.join("", browser.texts("section.plot:has([data-plot=" + plot + "]) > .hint"));
    }

    @Test
    void gaps_ofItsChannels_areSaid() {
        open("ice-0003");

        assertThat(browser.texts("section:has(> h2) li"))
                .contains(
                        "No probe in the mains water: the season stands in for it.",
                        "No water meter: water use is not judged.")
                .doesNotContain("No probe in the room air: it is estimated, so the expectation is wider.");
    }

    @Test
    void time_lookedCloserAndFurtherBack_isInTheAddressAndComesBack() {
        open("ice-0003");
        press("30 days");
        browser.until("a month", b -> hours() == 720);
        press("+ Closer");
        browser.until("half of it", b -> hours() == 360);
        press("‹ Earlier");
        browser.until("it stays where it is", b -> !to().isEmpty());
        String before = to();
        press("− Wider");
        browser.until("a month again", b -> hours() == 720);

        browser.go(browser.run("return location.href").toString());
        browser.find("[data-plot=freeze] canvas");
        assertThat(browser.all(".spans [aria-pressed=true]"))
                .as("no length that ends now")
                .isEmpty();
        assertThat(hours()).isEqualTo(720);
        press("Later ›");
        browser.until("later", b -> to().isEmpty() || to().compareTo(before) > 0);
        press("1 week");
        browser.until("now", b -> to().isEmpty() && hours() == 168);
    }

    @Test
    void plot_draggedAcross_showsThatTime() {
        open("ice-0003");
        drag(browser.find("[data-plot=freeze] .u-over"));

        browser.until("closer", b -> hours() > 0 && hours() < 168 && !to().isEmpty());
    }

    private static void drag(WebElement over) {
        browser.drag(over, 200, 320);
    }

    private static double hours() {
        return ((Number) browser.run("return Number(new URLSearchParams(location.search).get('hours'))")).doubleValue();
    }

    private static String to() {
        return browser.run("return new URLSearchParams(location.search).get('to') ?? ''")
                .toString();
    }
}
