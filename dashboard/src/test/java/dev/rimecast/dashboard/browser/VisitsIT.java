package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.time.LocalDate;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/** The service manager plans visits. */
class VisitsIT extends Bench {
    @BeforeEach
    void manager() {
        browser.complaints(); // of the test before
        server.account("Mara", Role.MANAGER, SiteScope.EVERY);
        browser.forgetCookies();
        browser.go(server.url("/sign-in"));
        press("Enter as Mara");
        browser.until("Mara", b -> b.texts(".who-am-i a").equals(List.of("Mara")));
        browser.go(server.url("/visits"));
        browser.until("the plan", b -> !b.all(".visit").isEmpty());
    }

    private static String told(String css) {
        return String.join(" ", browser.texts(css));
    }

    private VisitView first() {
        return server.visits().list(SiteScope.EVERY, Filter.OPEN).stream()
                .filter(visit -> visit.needs().stream()
                        .anyMatch(planned -> planned.need().kind() == Need.Kind.CASE))
                .findFirst()
                .orElseThrow();
    }

    private VisitView now(VisitView visit) {
        return server.visits().one(visit.id()).orElseThrow();
    }

    private static String row(VisitView visit) {
        return "[data-visit=\"" + visit.id() + "\"]";
    }

    @Test
    void manager_acceptsMovesByKeyboardAndPrints() {
        VisitView visit = first();
        browser.until("the visit is there", b -> told(row(visit)).contains("proposed"));

        browser.find(row(visit) + " button.primary").click();
        press("Accept it");
        browser.until("it is accepted", b -> told(row(visit)).contains("accepted"));
        assertThat(now(visit).state()).isEqualTo(State.ACCEPTED);
        assertThat(now(visit).changedBy()).isEqualTo("Mara");

        WebElement move = browser.find(row(visit) + " button[aria-label^=\"Move\"]");
        move.sendKeys(Keys.ENTER);
        browser.until("the effect is told", b -> told("dialog .effect").contains("Ice"));
        assertThat(browser.violations()).isEmpty();
        LocalDate later = visit.day().plusDays(6);
        browser.run(
                "const day = document.querySelector('dialog input[name=day]'); day.focus(); day.value = arguments[0];"
                        + "day.dispatchEvent(new Event('change', {bubbles: true}))",
                later.toString());
        browser.until(
                "what it costs beside what is planned",
                b -> told("dialog .effect").contains("; as planned now, by "));
        assertThat(told("dialog .effect")).contains("kg short, out of ice at ");
        browser.run(
                "const time = document.querySelector('dialog input[name=from]'); time.focus(); time.value = '13:30';"
                        + "time.dispatchEvent(new Event('change', {bubbles: true}))");
        browser.until("of that hour", b -> told("dialog .effect").contains(", 13:30 the site is about"));
        browser.find("dialog button.primary").sendKeys(Keys.ENTER);
        browser.until("it is moved", b -> now(visit).day().equals(later));
        assertThat(now(visit).state()).isEqualTo(State.ACCEPTED);
        assertThat(now(visit).fromMinute()).isEqualTo(13 * 60 + 30);

        browser.go(server.url("/visits/" + visit.id()));
        browser.until(
                "the sheet has its checks",
                b -> !b.all(".visit-sheet .checks li").isEmpty());
        assertThat(told("h1")).isEqualTo("Visit to " + visit.siteName());
        assertThat(told(".lead")).contains(now(visit).engineer());
        String machine = now(visit).needs().get(0).need().machines().get(0);
        assertThat(browser.find("[data-report=\"" + machine + "\"]").getDomAttribute("href"))
                .as("the closing form knows its visit")
                .isEqualTo("/work-report/" + machine + "?visit=" + visit.id());
        assertThat(browser.violations()).isEmpty();
        browser.run("window.printed = 0; window.print = () => { window.printed += 1; }");
        press("Print");
        assertThat(browser.run("return window.printed")).isEqualTo(1L);
    }

    @Test
    void care_dueOnSeveralMachines_isOneCalmLine() {
        server.close();
        server = FakeServer.start(FakeFleets::careDue);
        manager();
        browser.until("care is there", b -> told(".care-need").contains("Air filter wash is due"));

        List<String> lines = browser.texts(".care-need").stream()
                .filter(line -> line.contains("Air filter wash is due"))
                .toList();
        assertThat(lines)
                .singleElement()
                .satisfies(line -> assertThat(line)
                        .contains("ice-0001", "ice-0002", "ice-0003", "due since")
                        .doesNotContain("Misses"));
        assertThat(browser.texts(".warmly"))
                .as("only what is wrong is loud")
                .isNotEmpty()
                .allMatch(text -> text.startsWith("Misses its date, "));
        assertThat(browser.all(".care-need .warmly")).isEmpty();
        assertThat(told("main")).as("dates are in words").doesNotContainPattern("\\d{4}-\\d{2}-\\d{2}");
    }

    /** The engineer shall believe the finding: what it is made of stands beside what to do. */
    @Test
    void sheet_ofADirtyCondenser_drawsWhatSpeaksForIt() {
        VisitView visit = server.visits().list(SiteScope.EVERY, Filter.OPEN).stream()
                .filter(each -> each.needs().stream()
                        .anyMatch(planned -> planned.need().machines().contains("ice-0003")))
                .findFirst()
                .orElseThrow();
        browser.go(server.url("/visits/" + visit.id()));

        browser.until("the split is drawn", b -> b.all(".proving canvas").size() >= 2);
        assertThat(browser.texts(".proving h3")).contains("ice-0003: Split over time", "ice-0003: Harvest");
        assertThat(browser.all(".proving:first-of-type .few tbody tr")).hasSize(8);
        assertThat(told(".proving .beside-plot")).contains("Harvest is a little shorter than expected.");

        browser.scheme("dark");
        String dark = ground();
        browser.run("dispatchEvent(new Event('beforeprint'))");
        assertThat(ground()).as("paper is white on a dark screen, too").isNotEqualTo(dark);
        browser.run("dispatchEvent(new Event('afterprint'))");
        assertThat(ground()).isEqualTo(dark);
    }

    private static String ground() {
        return (String) browser.run("return getComputedStyle(document.documentElement).getPropertyValue('--ground')");
    }

    @Test
    void mouse_dragsAVisitOntoADay_asksBeforeItMoves() {
        VisitView visit = first();
        LocalDate target = visit.day().plusDays(3);
        browser.until(
                "the visit can be dragged",
                b -> Boolean.TRUE.equals(
                        b.run("return document.querySelector(arguments[0])?.draggable ?? false", row(visit))));

        browser.run(
                "const data = new DataTransfer(); const fire = (target, type) => target.dispatchEvent("
                        + "new DragEvent(type, {bubbles: true, cancelable: true, dataTransfer: data}));"
                        + "const from = document.querySelector(arguments[0]);"
                        + "fire(from, 'dragstart'); const day = document.querySelector(arguments[1]);"
                        + "fire(day, 'dragover'); fire(day, 'drop'); fire(from, 'dragend');",
                row(visit),
                "[data-day=\"" + target + "\"]");
        browser.until("it is asked", b -> told("dialog .effect").contains("Ice"));
        assertThat(now(visit).day()).isEqualTo(visit.day());
        press("Move it");
        browser.until("it is moved", b -> now(visit).day().equals(target));
    }
}
