package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.dashboard.fake.FakeBench;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import dev.rimecast.dashboard.http.Pages;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Every page, to be walked through by somebody who may see them all; one small fleet for all of a class. */
abstract class PageWalk extends Bench {
    private static FakeServer walked;

    @BeforeAll
    static void serve() {
        walked = FakeServer.start(FakeFleets::small);
        walked.account("administrator", Role.ADMINISTRATOR, SiteScope.EVERY);
        browser.go(walked.url("/sign-in"));
        button("Enter as administrator").click();
        browser.find(".row");
    }

    @AfterAll
    static void close() {
        if (walked != null) {
            walked.close();
        }
    }

    @BeforeEach
    @Override
    void start() {
        server = walked;
    }

    @AfterEach
    @Override
    void stop() {
        browser.wide();
        browser.scheme("light");
    }

    /**
     * @param name as in the test's report
     * @param path of the page on a small fleet
     * @param heading its first heading, once it has loaded
     * @param inside whether one has come in, and sees menu and foot
     */
    record Page(String name, Function<FakeServer, String> path, String heading, boolean inside) {
        Page(String path, String heading) {
            this(path, server -> path, heading);
        }

        Page(String name, Function<FakeServer, String> path, String heading) {
            this(name, path, heading, true);
        }

        private static Page outside(String name, String heading) {
            return new Page(name, server -> name, heading, false);
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
                new Page(
                        "/alerts/{id}/why",
                        server -> "/alerts/"
                                + server.fleet().leading("ice-0003").finding().id() + "/why",
                        "Why"),
                new Page("/cases?finished=true", "Cases"),
                new Page("/machines/ice-0003", "ice-0003"),
                new Page("/machines/ice-0001", "ice-0001"),
                new Page("/visits", "Visits"),
                new Page("/visits?view=site&ended=true", "Visits"),
                new Page("/visits/{id}", PageWalk::sheet, "Visit to"),
                new Page("/work-report/ice-0003", "Work on ice-0003"),
                new Page("/care/ice-0003", "Care record of ice-0003"),
                new Page("/site-care/site-1", "Care record of Quay Street Canteen"),
                new Page("/commissioning/ice-0003", "Commissioning of ice-0003"),
                new Page("/figures", "How work does"),
                new Page("/events", "What happened"),
                new Page("/notices", "Notices"),
                new Page("/rules", "Rules"),
                new Page("/rules/priority", "How urgent an alert is"),
                new Page("/thresholds", PageWalk::thresholds, "Thresholds"),
                new Page("/system", "System"),
                new Page("/account", "Your account"),
                new Page("/tokens", "API tokens"),
                new Page("/accounts", "Accounts"),
                new Page("/nothing/here", "Nothing here"),
                Page.outside("/sign-in", "Sign in"),
                Page.outside("/set-up#a-link", "Make the first account"),
                Page.outside("/choose-password#a-link", "Choose a password"),
                new Page("/wall#{link}", server -> "/wall#" + server.screen(SiteScope.EVERY), "Fleet", false),
                new Page("/site-check#{link}", PageWalk::siteCheck, "ice machine", false));
    }

    /** Every page that the product has: a new one is walked through, or this fails by its name. */
    @Test
    void pages_ofTheProduct_areAllWalkedThrough() {
        List<String> paths = pages().map(page -> page.path().apply(server).replaceFirst("[?#].*", ""))
                .toList();

        assertThat(Pages.Page.values())
                .allSatisfy(page -> assertThat(paths)
                        .as("pages like %s", page.path())
                        .anyMatch(path -> path.matches(page.path().replaceAll("\\{[^}]*}", "[^/]+"))));
    }

    private static String siteCheck(FakeServer server) {
        UUID of = server.fleet().leading("ice-0003").caseId().orElseThrow();
        return "/site-check#" + server.siteLinks().secret(of, "ice-0003");
    }

    static Stream<Page> pagesInside() {
        return pages().filter(Page::inside);
    }

    /** With a trial that runs, and with questions to the past and looks at the fleet that were answered and are under way. */
    private static String thresholds(FakeServer server) {
        if (!server.bench().trials().isEmpty()) {
            return "/thresholds";
        }
        Map<String, Double> changes = Map.of(FakeBench.RATE, 0.5);
        Person ana = new Person("Ana");
        server.bench().tryOut(changes, ana, "are alerts earlier?");
        server.bench().backTest(changes, 30, ana);
        server.bench().backTest(changes, 90, ana);
        server.bench().look(60, 14, ana);
        server.bench().look(60, 14, ana);
        return "/thresholds";
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

    void open(Page page) {
        visit(page);
        browser.until(
                "has loaded",
                b -> b.texts("h1").stream().anyMatch(h -> h.contains(page.heading()) && !h.equals("Alert"))
                        && b.texts("main .quietly[role=status]").stream().noneMatch(said -> said.contains("Loading")));
        if (!page.inside()) {
            return;
        }
        browser.until("foot is there", b -> b.texts(".foot").toString().contains("version"));
        if (page.name().startsWith("/machines/")) {
            browser.until(
                    "plots are there",
                    b -> b.all(".canvas:not(.proof .canvas) canvas").size() == 9);
        }
        if (page.name().equals("/visits/{id}")) {
            browser.until("plots are there", b -> !b.all(".proving canvas").isEmpty());
        }
    }

    /** Whatever it shows. */
    void visit(Page page) {
        String address = server.url(page.path().apply(server));
        if (address.contains("#")) {
            // an address that differs behind the hash sign alone opens nothing
            browser.go(server.url("/livez"));
        }
        browser.go(address);
    }

    /** Texts of what takes room on the page. */
    @SuppressWarnings("unchecked")
    static List<String> shown(String css) {
        return (List<String>) browser.run(
                "return [...document.querySelectorAll(arguments[0])].filter(e => e.getClientRects().length > 0).map(e => e.textContent)",
                css);
    }
}
