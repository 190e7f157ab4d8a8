package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.VisitRequest;
import dev.rimecast.alerts.view.Visits.Made;
import dev.rimecast.alerts.view.Visits.NewVisit;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Numbers and dates as the reader writes them, and the time of the reader's place with UTC in the tooltip. */
class LocaleIT extends Bench {
    private static final ZoneId TOKYO = ZoneId.of("Asia/Tokyo");
    private static final DateTimeFormatter UTC =
            DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm 'UTC'", Locale.ROOT).withZone(ZoneOffset.UTC);
    private static final DateTimeFormatter CLOCK =
            DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT).withZone(TOKYO);

    @BeforeEach
    void aGermanInTokyo() {
        browser.locale("de-DE");
        browser.zone(TOKYO.getId());
    }

    @AfterEach
    void asTheMachineIs() {
        browser.locale("");
        browser.zone("");
    }

    @Test
    void numbers_ofFiguresAndOfSentences_haveTheReadersDecimalSign() {
        browser.go(server.url("/machines/ice-0003"));
        browser.until("the machine", b -> b.texts(".tiles").toString().contains("43,9 °C"));

        assertThat(browser.texts(".head .lead").toString()).contains("25,1 °C");
        assertThat(browser.texts(".open .lead").toString()).contains("Condenser stands 22,8 K above the room");
        browser.until("plots are there", b -> b.all(".plots canvas").size() == 8);
        assertThat(browser.texts("main").toString()).doesNotContainPattern("\\d\\.\\d+ (°C|K|s|min|h|kg|%)");

        browser.find(".units button:last-child").click();
        browser.until("in °F", b -> b.texts(".tiles").toString().contains("111,0 °F"));
        assertThat(browser.texts(".open .lead").toString()).contains("Condenser stands 41 °F above the room");
        browser.find(".units button:first-child").click();
    }

    @Test
    void sentences_haveTheReadersDecimalSign_inQuantitiesOnly() {
        browser.go(server.url("/machines/ice-0003"));

        assertThat(prose("no warmer than -2.3 °C, 12.5 % more, 3.25 kg, 1.5 h, from 2.1 to 4.3 K"))
                .isEqualTo("no warmer than -2,3 °C, 12,5 % more, 3,25 kg, 1,5 h, from 2,1 to 4,3 K");
        assertThat(prose("job 0042.10 at 08.15, key until 9.30; back 31.5."))
                .isEqualTo("job 0042.10 at 08.15, key until 9.30; back 31.5.");

        browser.find(".units button:last-child").click();
        assertThat(prose("made for 10 to 38 °C; no warmer than -2.3 °C"))
                .isEqualTo("made for 50 to 100,4 °F; no warmer than 27,9 °F");
        browser.find(".units button:first-child").click();
    }

    @Test
    void dates_thatAreWrittenWithPoints_areNoNumbers() {
        browser.locale("fi-FI");
        browser.go(server.url("/machines/ice-0003"));
        int year = LocalDate.now(TOKYO).getYear() + 2;

        assertThat(prose("by " + year + "-12-31, 2.5 kg")).isEqualTo("by 31.12." + year + ", 2,5 kg");
    }

    @Test
    void whatPeopleHaveWritten_staysAsItIs() {
        NewVisit wanted = new NewVisit(
                UUID.randomUUID(),
                server.fleet().machine("ice-0003").orElseThrow().site().id(),
                LocalDate.now(ZoneOffset.UTC).plusDays(1),
                570,
                "Samir",
                new VisitRequest(List.of(), "At 08.15, key until 9.30; back 31.5. It was 4.5 °C", "0042.10", 60));
        UUID visit = ((Made.Added) server.visits().make(wanted, new Person("Mara")))
                .visit()
                .id();
        browser.go(server.url("/visits/" + visit));
        browser.until("its history", b -> b.texts(".history li").toString().contains("made by hand"));

        assertThat(browser.texts(".history li").toString())
                .contains("At 08.15, key until 9.30; back 31.5. It was 4.5 °C", ", job 0042.10")
                .as("the day is the product's")
                .doesNotContain(wanted.day().toString());
    }

    private static String prose(String text) {
        return String.valueOf(browser.runAsync(
                "const [text, done] = arguments; const page = document.querySelector('script[type=module]').src;"
                        + "import(new URL('units.js', page).href).then((units) => done(units.prose(text)), (e) => done(String(e)))",
                text));
    }

    @Test
    void times_ofEveryPage_areOfTheReadersPlaceWithUtcInTheTooltip() {
        for (String path : List.of("/", "/alerts", "/machines/ice-0003", "/events?site=site-1")) {
            browser.go(server.url(path));
            browser.until("times", b -> !b.all("main time").isEmpty());

            assertThat(times())
                    .as(path)
                    .allSatisfy(time -> assertThat(time.get(1)).isEqualTo(UTC.format(Instant.parse(time.get(0)))));
            assertThat(times().stream()
                            .filter(time -> time.get(2).matches(".*\\d\\d:\\d\\d.*"))
                            .toList())
                    .as("%s, those that say the hour", path)
                    .isNotEmpty()
                    .allSatisfy(time -> assertThat(time.get(2)).contains(CLOCK.format(Instant.parse(time.get(0)))));
        }
    }

    /** Instant, tooltip and text of each. */
    @SuppressWarnings("unchecked")
    private static List<List<String>> times() {
        return (List<List<String>>) browser.run(
                "return [...document.querySelectorAll('main time')].map(e => [e.dateTime, e.title, e.textContent])");
    }
}
