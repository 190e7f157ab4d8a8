package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
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
