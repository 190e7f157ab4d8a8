package dev.rimecast.app.spine;

import static dev.rimecast.app.spine.RepairStory.MACHINE;
import static dev.rimecast.app.spine.RepairStory.MANAGER;
import static dev.rimecast.app.spine.RepairStory.STEP;
import static dev.rimecast.app.spine.RepairStory.WARNED;
import static dev.rimecast.app.spine.RepairStory.WORKED;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The story of {@link RepairStoryIT} as people live it, each on their own screen. The operator marks the alert, is told that the
 * engineer was faster, sits through a restart of the server, gives it to the manager, and is out once the session has ended. The
 * manager asks the site; somebody there answers on a phone over a weak line; the manager accepts the visit; the engineer writes down the
 * work on a phone in a plant room without a connection, and the machine's page says that the repair has held. At the end the analyst
 * tries a number on what the server has lived through.
 */
class RepairStoryInBrowserIT {
    /** What the site sees of a condenser that is dirty behind its cover, by question. */
    private static final Map<String, String> SEEN = Map.of(
            "air-filter", "none-there",
            "things-around", "free",
            "air-blows", "weakly",
            "room-temperature", "usual");

    @TempDir
    Path directory;

    @BeforeEach
    void needsABrowser() {
        OptionalParts.chromium();
        OptionalParts.chromedriver();
    }

    @Test
    void dirtyCondenser_fromWarningToProof() throws Exception {
        try (RepairStory story = new RepairStory(directory.resolve("server"));
                PatchyLine line = new PatchyLine(story.server().httpPort());
                Chromium desk = Chromium.open(directory.resolve("desk"));
                Chromium phone = Chromium.open(directory.resolve("phone"))) {
            String address = story.manager().address();
            story.live(WARNED);

            Http operator = story.operator();
            desk.enter(address, operator);
            phone.enter(address, story.engineer());
            twoAtOnce(desk, phone, address);
            story.restart(() -> desk.text(".strip.stale", "No live updates since"));
            desk.gone(".strip.stale");
            givesItToTheManager(desk, story);
            operator.delete("/api/v1/session");
            desk.text("h1", "Sign in");
            desk.enter(address, story.manager());
            String link = warnedAndAsks(desk, address);
            siteAnswers(phone, link);
            desk.text(".site-links", "Warm air:", "it blows weakly");
            String visit = acceptsTheVisit(desk, address);

            story.live(WORKED);
            phone.enter(line.address(), story.engineer());
            phone.go(line.address() + "/visits/" + visit);
            String page = Objects.requireNonNull(
                    phone.find("[data-report=" + MACHINE + "]").getDomProperty("href"));
            phone.click("[data-report=" + MACHINE + "]");
            phone.find("[data-offline-ready=true]");
            line.cut();
            writesWithoutAConnection(phone, page);
            story.live(WORKED.plus(STEP));
            assertThat(story.engineer().get("/api/v1/machines/" + MACHINE + "/work-reports"))
                    .as("nothing has come through")
                    .isEqualTo("[]");
            line.mend();
            phone.go(page);
            phone.text("[data-sent]", "sent");
            assertThat(story.engineer().get("/api/v1/machines/" + MACHINE + "/work-reports"))
                    .as("the report says which visit it was of")
                    .contains("\"visit\":\"" + visit + '"');

            story.live(WORKED.plus(Duration.ofHours(24)));
            held(desk, address, visit);
            triesANumber(desk, address, story);
        }
    }

    /** Both are about to mark the same alert as seen; whoever is second is told by whom it was, and takes nothing from them. */
    private static void twoAtOnce(Chromium desk, Chromium phone, String address) {
        phone.phone();
        for (Chromium each : List.of(desk, phone)) {
            toTheAlert(each, address);
            each.press("Mark as seen");
            each.find("dialog textarea");
        }
        phone.find("dialog textarea").sendKeys("I go there on Friday.");
        phone.click("dialog .primary");
        phone.text(".facts", "seen by Pim");
        desk.find("dialog textarea").sendKeys("Ours.");
        desk.click("dialog .primary");
        desk.text("dialog .told", "Pim");
        desk.press("OK");
        desk.text(".facts", "seen by Pim");
        assertThat(desk.text(".history", "I go there on Friday.")).doesNotContain("Ours.");
    }

    private static void givesItToTheManager(Chromium desk, RepairStory story) {
        desk.press("Give to somebody");
        desk.find("dialog select option[value=" + MANAGER + "]").click();
        desk.find("dialog textarea").sendKeys("Pim is on it, please plan.");
        desk.click("dialog .primary");
        desk.text(".facts", MANAGER);
        desk.text(".history", "Pim is on it, please plan.");
        assertThat(story.manager().get("/api/v1/alerts")).contains("\"hasIt\":\"" + MANAGER + '"');
    }

    private static void toTheAlert(Chromium who, String address) {
        who.go(address + "/alerts");
        who.text("main", "Condensing temperature is rising", MACHINE);
        who.follow("Condensing temperature is rising");
        who.text("h1", "Condensing temperature is rising");
    }

    /** From the list of alerts to the link for the site, which is returned. */
    private static String warnedAndAsks(Chromium desk, String address) {
        toTheAlert(desk, address);
        desk.text(".why", "air cannot get through the condenser");
        desk.click("[data-ask-site=" + MACHINE + "]");
        return desk.text("[data-secret]", "/site-check#");
    }

    private static void siteAnswers(Chromium phone, String link) {
        phone.phone();
        phone.forgetEverybody();
        phone.slow(300, 80_000);
        phone.go(link);
        phone.text("main", MACHINE);
        for (int i = 1; phone.all("[data-state]").isEmpty(); i++) {
            assertThat(i).as("questions asked").isLessThanOrEqualTo(SEEN.size());
            String question = phone.find("[data-check]").getDomAttribute("data-check");
            assertThat(SEEN).as("a question that the story can answer").containsKey(question);
            phone.click("[data-check=" + question + "] [data-answer=" + SEEN.get(question) + "]");
            phone.find("[data-answered=" + question + "]");
        }
        phone.fast();
    }

    /** @return its id */
    private static String acceptsTheVisit(Chromium desk, String address) {
        desk.go(address + "/visits");
        desk.press("Plan now");
        desk.text(".visit", "proposed", MACHINE);
        // It is planned by itself, too: who accepts what has just become another visit is told, and looks again.
        int tries = 0;
        do {
            desk.go(address + "/visits");
            desk.text(".visit", "proposed", MACHINE);
            desk.click(".visit button.primary");
            desk.find("dialog textarea").sendKeys("Key at the bar.");
            desk.press("Accept it");
            tries++;
        } while (tries < 3 && !desk.comesToSay(".visit .state", "accepted"));
        desk.text(".visit .state", "accepted");
        String id = desk.find(".visit").getDomAttribute("data-visit");
        desk.go(address + "/visits/" + id);
        desk.text(".visit-sheet", "Condensing temperature is rising", "Key at the bar.");
        desk.find(".proving canvas");
        return String.valueOf(id);
    }

    private static void writesWithoutAConnection(Chromium phone, String page) {
        phone.go(page);
        phone.text("[data-offline]", "No connection");
        assertThat(phone.find("input[name=found]:checked").getDomAttribute("value"))
                .as("begins with the probable cause")
                .isEqualTo("airflow-restricted");
        phone.click("input[name=done][value=cleaned]");
        phone.click("input[name=charge][value=chargeable]");
        phone.find("input[name=job]").sendKeys("J-12");
        phone.press("Finish");
        phone.text("[data-waiting]", "kept on this phone, not sent yet");
        phone.go(page);
        phone.text("[data-waiting]", "kept on this phone, not sent yet");
    }

    private static void held(Chromium desk, String address, String visit) {
        desk.go(address + "/machines/" + MACHINE);
        String proof = desk.text(".proof", "Held.", "After 10 cycles");
        assertThat(proof)
                .contains("air cannot get through the condenser", "Condensing temperature is rising")
                .doesNotContain("Not held");
        desk.go(address + "/visits/" + visit);
        desk.text(".visit-sheet .facts", "done");
        desk.go(address + "/visits?ended=true");
        desk.text(".visit .state", "done");
    }

    /** The analyst's job on what this server has lived through: what a number would change, beside those in force, then instead. */
    private static void triesANumber(Chromium desk, String address, RepairStory story) {
        desk.enter(address, story.analyst());
        desk.go(address + "/thresholds");
        desk.text(".head", "Version 1 is in force");
        desk.write("[data-path='change.false_alarms_per_machine_year'] input[type=number]", "0.5");
        desk.text(".draft", "One number is changed");
        desk.text("#effect[data-state=done]", "Every site was decided anew", "from all 1 machines");
        desk.press("Try beside …");
        desk.find("dialog textarea").sendKeys("Are alerts earlier?");
        desk.click("dialog .primary");
        desk.text("[data-trial='1']", "runs beside those in force", "Are alerts earlier?");
        desk.press("Promote …");
        desk.find("dialog textarea").sendKeys("No noisier.");
        desk.click("dialog .primary");
        desk.text(".head", "Version 2 is in force", "No noisier.");
        assertThat(story.analyst().get("/api/v1/thresholds/versions/2"))
                .contains("\"who\":\"Ana\"", "\"trial\":1", "false_alarms_per_machine_year: 0.5");
    }
}
