package dev.rimecast.app.spine;

import static dev.rimecast.app.spine.RepairStory.MACHINE;
import static dev.rimecast.app.spine.RepairStory.STEP;
import static dev.rimecast.app.spine.RepairStory.WARNED;
import static dev.rimecast.app.spine.RepairStory.WORKED;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The story of {@link RepairStoryIT} as people live it, each on their own screen: the manager is warned and asks the site,
 * somebody there answers on a phone, the manager accepts the visit, the engineer writes down the work on a phone in a plant
 * room without a connection, and the machine's page says that the repair has held.
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
        }
    }

    /** From the list of alerts to the link for the site, which is returned. */
    private static String warnedAndAsks(Chromium desk, String address) {
        desk.go(address + "/alerts");
        desk.text("main", "Condensing temperature is rising", MACHINE);
        desk.click("main a[href^='/alerts/']");
        desk.text("h1", "Condensing temperature is rising");
        desk.text(".why", "air cannot get through the condenser");
        desk.click("[data-ask-site=" + MACHINE + "]");
        return desk.text("[data-secret]", "/site-check#");
    }

    private static void siteAnswers(Chromium phone, String link) {
        phone.phone();
        phone.forgetEverybody();
        phone.go(link);
        phone.text("main", MACHINE);
        for (int i = 1; phone.all("[data-state]").isEmpty(); i++) {
            assertThat(i).as("questions asked").isLessThanOrEqualTo(SEEN.size());
            String question = phone.find("[data-check]").getDomAttribute("data-check");
            assertThat(SEEN).as("a question that the story can answer").containsKey(question);
            phone.click("[data-check=" + question + "] [data-answer=" + SEEN.get(question) + "]");
            phone.find("[data-answered=" + question + "]");
        }
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
}
