package dev.rimecast.alerts.notice.text;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.visits.plan.PartOrder;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class DigestTextTest {
    private static final Instant NOW = Instant.parse("2026-05-04T06:30:00Z");
    private static final LocalDate MONDAY = LocalDate.of(2026, 5, 4);

    private static VisitView visit(LocalDate day, PartOrder... orders) {
        return new VisitView(
                UUID.randomUUID(),
                "s0",
                "The Lantern",
                ZoneOffset.UTC,
                Optional.empty(),
                day,
                540,
                60,
                "Bo",
                VisitView.State.PROPOSED,
                0,
                "",
                List.of(),
                Optional.empty(),
                List.of(orders),
                false,
                NOW,
                NOW,
                "planning",
                List.of());
    }

    private static Content digest(VisitView... visits) {
        return new DigestText(Words.standard(), "http://localhost")
                .of(
                        new DigestText.Facts(
                                MONDAY,
                                ZoneOffset.UTC,
                                NOW,
                                List.of(),
                                Map.of(),
                                List.of(),
                                List.of(),
                                List.of(visits),
                                Map.of()),
                        NOW);
    }

    @Test
    void orders_whoseLastDayIsTodayOrPast_areTold_andNothingElse() {
        PartOrder motor = new PartOrder("Fan motor", 2, true, MONDAY);
        PartOrder pump = new PartOrder("Drain pump", 3, true, MONDAY);
        PartOrder lamp = new PartOrder("Lamp", 1, true, MONDAY);
        PartOrder along = new PartOrder("Air filter", 9, false, MONDAY);

        Content content = digest(visit(MONDAY.plusDays(2), motor, pump, lamp, along), visit(MONDAY.plusDays(4), motor));

        assertThat(content.sections()).singleElement().satisfies(section -> {
            assertThat(section.title()).isEqualTo("Parts to order (2)");
            assertThat(section.lines())
                    .extracting(Content.Line::text)
                    .containsExactly(
                            "The Lantern, visit on Wed 6 May: Fan motor, 2 days: today is the last day to order it,"
                                    + " unless it is ordered.",
                            "The Lantern, visit on Wed 6 May: Drain pump, 3 days: it was to be ordered by Sun 3 May;"
                                    + " ordered today it comes after the visit, unless it is ordered.");
        });
        assertThat(content.data()).containsEntry("toOrder", 2);
    }

    /** Nobody has said that it was done; nothing can come for it any more. */
    @Test
    void orders_ofAVisitThatIsPast_areNotTold_andThoseOfTodayAre() {
        PartOrder motor = new PartOrder("Fan motor", 2, true, MONDAY.minusDays(5));

        assertThat(digest(visit(MONDAY.minusDays(1), motor)).sections()).isEmpty();
        assertThat(digest(visit(MONDAY.minusDays(1), motor)).data()).containsEntry("toOrder", 0);
        assertThat(digest(visit(MONDAY, motor)).data()).containsEntry("toOrder", 1);
    }

    @Test
    void orders_withTimeLeft_makeNoSection() {
        assertThat(digest(visit(MONDAY.plusDays(9), new PartOrder("Fan motor", 2, true, MONDAY)))
                        .sections())
                .isEmpty();
    }
}
