package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.work.Deed;
import dev.rimecast.alerts.work.Done;
import dev.rimecast.alerts.work.Found;
import dev.rimecast.alerts.work.StoredWork;
import dev.rimecast.alerts.work.Work.Outcome;
import dev.rimecast.alerts.work.WorkReport;
import dev.rimecast.alerts.work.photo.NotAPhotoException;
import dev.rimecast.alerts.work.photo.PlainJpeg;
import dev.rimecast.dashboard.Jpegs;
import dev.rimecast.telemetry.finding.Cause;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Photos of work from a phone: made smaller, kept where there is no connection, sent once, shown afterwards. */
class PhotosIT extends Bench {
    private static final String KEPT = "rimecast.work.photos";
    /** Runs with {@code store}, the store of what is kept, and {@code done}. */
    private static final String IN_STORE = "const done = arguments[arguments.length - 1];"
            + "const open = indexedDB.open('rimecast-photos', 1);"
            + "open.onsuccess = () => { const db = open.result;"
            + "const store = db.transaction('photos', 'readwrite').objectStore('photos');"
            + "const end = (value) => { db.close(); done(value); };";

    @TempDir
    Path directory;

    private void enter() {
        server.account("Pim", Role.ENGINEER, SiteScope.EVERY);
        browser.go(server.url("/sign-in"));
        press("Enter as Pim");
        browser.until("Pim", b -> b.texts(".who-am-i a").toString().contains("Pim"));
    }

    /** Opens the page as an engineer, and waits until the phone can open it alone. */
    private String opened() {
        enter();
        browser.phone();
        String page = server.url("/work-report/ice-0003");
        browser.go(page);
        browser.find("[data-offline-ready=true]");
        return page;
    }

    private static void done() {
        browser.find("input[name=done][value=air-filter-washed]").click();
    }

    /** As a phone's camera has it: large, and with a note of the place in it. */
    private String fromTheCamera(String name) {
        byte[] plain = Jpegs.of(2_400, 1_800);
        byte[] place = "\u00ff\u00e1\0\u0012Exif\0\0MM 52N 4E!".getBytes(StandardCharsets.ISO_8859_1);
        byte[] sent = new byte[plain.length + place.length];
        System.arraycopy(plain, 0, sent, 0, 2);
        System.arraycopy(place, 0, sent, 2, place.length);
        System.arraycopy(plain, 2, sent, 2 + place.length, plain.length - 2);
        return file(name, sent);
    }

    private String file(String name, byte[] content) {
        try {
            return Files.write(directory.resolve(name), content).toString();
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    private static void choose(String... files) {
        browser.find("input[name=photos]").sendKeys(Stream.of(files).collect(Collectors.joining("\n")));
    }

    private static void shown(int previews) {
        browser.until(
                previews + " previews",
                b -> b.all(".photos canvas[data-drawn]").size() == previews
                        && b.all(".photos li").size() == previews);
    }

    private static long kept() {
        return ((Number) browser.runAsync(
                        IN_STORE + "const all = store.count(); all.onsuccess = () => end(all.result); }"))
                .longValue();
    }

    @AfterEach
    void forget() {
        browser.runAsync("localStorage.clear();" + IN_STORE
                + "const all = store.clear(); all.onsuccess = () => end(true); }; open.onupgradeneeded = () =>"
                + " open.result.createObjectStore('photos')");
    }

    @Test
    void photos_chosenWithoutAConnection_areKeptThroughReloadsAndSentOnce() {
        String page = opened();
        int port = server.fallSilent();
        browser.go(page);
        browser.find("[data-offline]");
        choose(fromTheCamera("before.jpg"), fromTheCamera("after.jpg"), fromTheCamera("plate.jpg"));
        shown(3);
        assertThat((Number) browser.run("return document.documentElement.scrollWidth"))
                .isEqualTo(390L);
        assertThat(browser.violations()).isEmpty();
        browser.go(page);
        shown(3);
        browser.find("[aria-label='Remove photo 2']").click();
        shown(2);
        done();
        press("Finish");
        browser.find("[data-waiting]");
        assertThat(browser.texts("[data-waiting]").toString())
                .contains("kept on this phone with 2 photos, not sent yet");
        assertThat(browser.violations()).isEmpty();
        browser.go(page);
        browser.find("[data-waiting]");
        assertThat(kept()).isEqualTo(2);
        assertThat(browser.all(".photos li")).as("of the next report").isEmpty();

        server.answerAgain(port);
        browser.go(page);
        browser.find("[data-sent]");
        browser.until("both are sent", b -> kept() == 0);
        StoredWork work = only();
        assertThat(work.photos()).hasSize(2).allSatisfy(photo -> {
            assertThat(photo.width()).isEqualTo(1_600);
            assertThat(photo.height()).isEqualTo(1_200);
            assertThat(photo.enteredBy()).isEqualTo("Pim");
            assertThat(picture(work, photo.id())).doesNotContain("Exif", "52N 4E");
        });
        browser.until(
                "nothing waits",
                b -> b.all("[data-photos-waiting], [data-waiting]").isEmpty());
        browser.go(page);
        browser.find("[data-sent]");
        assertThat(server.work().photosReceived()).isEqualTo(2);
        assertThat(browser.complaints()).noneMatch(each -> each.contains("Content Security Policy"));
    }

    private StoredWork only() {
        assertThat(server.work().all()).hasSize(1);
        return server.work().all().get(0);
    }

    private String picture(StoredWork work, UUID photo) {
        return new String(
                server.work().photo(SiteScope.EVERY, work.report().id(), photo).orElseThrow(),
                StandardCharsets.ISO_8859_1);
    }

    @Test
    void photo_whoseAnswerWasLost_isSentAgainAndStoredOnce() {
        String page = opened();
        choose(fromTheCamera("before.jpg"));
        shown(1);
        browser.runAsync(IN_STORE
                + "const all = store.getAllKeys(); all.onsuccess = () => { const one = store.get(all.result[0]);"
                + "one.onsuccess = () => { window.id = all.result[0]; window.bytes = one.result; end(true); }; }; }");
        browser.run("window.queue = null; addEventListener('work-kept', () => { const now = localStorage.getItem('"
                + KEPT + "'); if (now && now !== '[]') window.queue ??= now; })");
        done();
        press("Finish");
        browser.until("sent", b -> server.work().photosReceived() == 1 && kept() == 0);
        browser.until("its queue was seen", b -> !"".equals(b.run("return window.queue")));
        browser.runAsync(
                IN_STORE + "const put = store.put(window.bytes, window.id); put.onsuccess = () => end(true); }");
        browser.run("localStorage.setItem('" + KEPT + "', window.queue)");

        browser.go(page);
        browser.until("sent again", b -> server.work().photosReceived() == 2 && kept() == 0);

        assertThat(only().photos()).hasSize(1);
    }

    /** One of a report that is not there waits, one that is no longer on the phone says so, and the third is sent. */
    @Test
    void photosThatCannotBeSent_doNotHoldUpTheOneThatCan() {
        String page = opened();
        done();
        press("Finish");
        browser.find("[data-sent]");
        UUID nowhere = UUID.randomUUID();
        browser.runAsync(
                IN_STORE + "const canvas = document.createElement('canvas'); canvas.width = canvas.height = 30;"
                        + "const bytes = Uint8Array.from(atob(canvas.toDataURL('image/jpeg').split(',')[1]), c => c.charCodeAt(0)).buffer;"
                        + "const sent = JSON.parse(localStorage.getItem('rimecast.work.sent'))[0];"
                        + "const account = arguments[1];"
                        + "const of = (report, id) => ({ id, report, machine: 'ice-0003', account, accountName: 'Pim', time: sent.time });"
                        + "const ids = [1, 2, 3].map(() => crypto.randomUUID());"
                        + "localStorage.setItem('" + KEPT + "', JSON.stringify("
                        + "[of(arguments[0], ids[0]), of(sent.id, ids[1]), of(sent.id, ids[2])]));"
                        + "store.put({ bytes, at: Date.now() }, ids[0]);"
                        + "const put = store.put({ bytes, at: Date.now() }, ids[2]); put.onsuccess = () => end(true); }",
                nowhere.toString(),
                browser.runAsync(
                        "fetch('/api/v1/session').then(r => r.json()).then(me => arguments[0](me.account.id))"));

        browser.go(page);
        browser.until("the third is sent", b -> only().photos().size() == 1);
        browser.until(
                "says that one is gone",
                b -> b.texts("[data-photo-refused]").toString().contains("a photo is no longer on this phone"));
        browser.find("[data-photos-waiting='1']");
        assertThat(browser.violations()).isEmpty();

        press("Throw it away");
        browser.until("is forgotten", b -> b.all("[data-photo-refused]").isEmpty());
        assertThat(kept()).as("of the report that is not there").isEqualTo(1);
    }

    /** What is no picture is not taken; what the server refuses waits to be thrown away, and holds up nothing. */
    @Test
    void photoThatIsRefused_doesNotHoldUpTheReportNorTheOthers() {
        opened();
        choose(file("note.txt", "no picture".getBytes(StandardCharsets.UTF_8)));
        browser.until(
                "says so", b -> b.texts(".photo-told").toString().contains("note.txt: this browser can’t read it"));
        choose(fromTheCamera("before.jpg"), fromTheCamera("after.jpg"));
        shown(2);
        spoilFirst();
        done();
        press("Finish");
        browser.find("[data-sent]");
        browser.find("[data-photo-refused]");
        assertThat(browser.texts("[data-photo-refused]").toString())
                .contains("the server did not take it: It is no JPEG");
        browser.until("the other one is there", b -> only().photos().size() == 1);
        assertThat(browser.violations()).isEmpty();

        mendFirst();
        press("Try again");
        browser.until(
                "nothing is left",
                b -> b.all("[data-photo-refused]").isEmpty()
                        && kept() == 0
                        && only().photos().size() == 2);
    }

    /** The first of the form becomes one that no browser can show; what it was is remembered in the page's session. */
    private static void spoilFirst() {
        browser.runAsync(IN_STORE + "const first = document.querySelector('[data-photo]').dataset.photo;"
                + "const was = store.get(first); was.onsuccess = () => {"
                + "sessionStorage.setItem('first', first);"
                + "sessionStorage.setItem('bytes', JSON.stringify([...new Uint8Array(was.result.bytes)]));"
                + "const put = store.put({ bytes: new ArrayBuffer(9), at: Date.now() }, first);"
                + "put.onsuccess = () => end(true); }; }");
    }

    private static void mendFirst() {
        browser.runAsync(IN_STORE + "const bytes = new Uint8Array(JSON.parse(sessionStorage.getItem('bytes'))).buffer;"
                + "const put = store.put({ bytes, at: Date.now() }, sessionStorage.getItem('first'));"
                + "put.onsuccess = () => end(true); }");
    }

    @Test
    void photoThatCannotBeShown_isKept_andShownOnceItCan() {
        String page = opened();
        choose(fromTheCamera("before.jpg"));
        shown(1);
        spoilFirst();
        browser.go(page);
        browser.until("says so", b -> b.texts(".photo-told").toString().contains("It is still kept on this phone"));
        assertThat(browser.all(".photos li")).hasSize(1);
        assertThat(kept()).isEqualTo(1);

        mendFirst();
        done();
        shown(1);
        browser.until("no longer says so", b -> b.texts(".photo-told").equals(List.of("")));
    }

    @Test
    void reportOpenedAgain_doesNotTakeThePlaceOfAnother() {
        String page = opened();
        choose(fromTheCamera("before.jpg"));
        shown(1);
        browser.run("const draft = JSON.parse(localStorage.getItem('rimecast.work.draft.ice-0003'));"
                + "localStorage.setItem('rimecast.work.waiting', JSON.stringify([{ id: 'other', machine: 'ice-0003',"
                + " account: 'x', accountName: 'X', time: new Date().toISOString(), problem: 'No.',"
                + " draft: { ...draft, id: 'other', photos: [] } }]))");
        browser.go(page);
        press("Open it again");
        browser.find("[data-occupied]");
        shown(1);
        assertThat(browser.all("[data-waiting]")).hasSize(1);
        assertThat(browser.violations()).isEmpty();

        press("Remove");
        press("Open it again");
        browser.until("it is open", b -> b.all("[data-waiting]").isEmpty());
    }

    @Test
    void form_takesFourPhotos_andSaysThatTheRestWasLeftOut() {
        opened();
        choose(
                fromTheCamera("1.jpg"),
                fromTheCamera("2.jpg"),
                fromTheCamera("3.jpg"),
                fromTheCamera("4.jpg"),
                fromTheCamera("5.jpg"));
        shown(4);
        browser.until("says so", b -> b.texts(".photo-told").toString().contains("at most 4 photos"));
        assertThat(browser.all("input[name=photos]")).isEmpty();
        assertThat(kept()).isEqualTo(4);
    }

    @Test
    void photosOfWork_areShownOnTheMachinesPageAndOnTheVisitSheet_alsoOnPaper() {
        UUID report = reported();
        enter();
        VisitView visit = server.visits().list(SiteScope.EVERY, Filter.OPEN).stream()
                .filter(each -> each.needs().stream()
                        .anyMatch(planned -> planned.need().machines().contains("ice-0003")))
                .findFirst()
                .orElseThrow();
        for (String page : List.of("/machines/ice-0003", "/visits/" + visit.id())) {
            browser.phone();
            browser.go(server.url(page));
            browser.until(page + " shows them", b -> loaded().equals(2L));
            assertThat(browser.texts("[data-photos='" + report + "'] figcaption")
                            .toString())
                    .contains("fan is weak", "Pim");
            assertThat((Number) browser.run("return document.documentElement.scrollWidth"))
                    .isEqualTo(390L);
            assertThat(browser.violations()).isEmpty();
            browser.wide();
            browser.printed();
            assertThat(
                            browser.run(
                                    "return [...document.querySelectorAll('.photographed img')].filter(e => e.checkVisibility()).length"))
                    .isEqualTo(2L);
            browser.scheme("light");
        }
    }

    private static Object loaded() {
        // they come once they are in sight
        return browser.run("document.querySelector('.photographed')?.scrollIntoView();"
                + "return [...document.querySelectorAll('.photographed img')]"
                + ".filter(e => e.complete && e.naturalWidth > 0 && e.alt).length");
    }

    private UUID reported() {
        WorkReport report = new WorkReport(
                UUID.randomUUID(),
                Instant.now(),
                new Found.ACause(Cause.FAN_WEAK),
                Optional.empty(),
                List.of(new Done(Deed.PART_REPLACED, "fan motor", Optional.empty())),
                Optional.empty(),
                "",
                "",
                "Pim",
                "",
                Optional.empty(),
                Optional.empty());
        Person pim = new Person("Pim");
        assertThat(server.work().report(SiteScope.EVERY, "ice-0003", report, pim))
                .isInstanceOf(Outcome.Added.class);
        try {
            for (int width : List.of(640, 300)) {
                server.work()
                        .addPhoto(
                                SiteScope.EVERY,
                                report.id(),
                                UUID.randomUUID(),
                                PlainJpeg.of(Jpegs.of(width, 480)),
                                pim);
            }
        } catch (NotAPhotoException e) {
            throw new IllegalStateException(e);
        }
        return report.id();
    }
}
