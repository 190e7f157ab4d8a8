package dev.rimecast.alerts.visits.calendar;

import static org.assertj.core.api.Assertions.assertThat;

import biweekly.component.VEvent;
import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitRequest;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.view.Visits.NewVisit;
import dev.rimecast.alerts.view.Visits.Target;
import dev.rimecast.alerts.visits.Firm;
import dev.rimecast.alerts.visits.IceAhead;
import dev.rimecast.alerts.visits.MemoryVisitStore;
import dev.rimecast.alerts.visits.RandomVisits;
import java.io.StringReader;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import net.fortuna.ical4j.data.CalendarBuilder;
import org.junit.jupiter.api.Test;

class CalendarLinksTest {
    private static final Person ADA = new Person("Ada");

    private final Firm firm = new Firm(new MemoryVisitStore(), IceAhead.UNKNOWN);
    private Account maker = new Account(
            UUID.randomUUID(), "Ada", Role.MANAGER, SiteScope.EVERY, false, true, Firm.MONDAY, Optional.empty());
    private final CalendarLinks links = links(firm);

    private CalendarLinks links(Firm of) {
        return new CalendarLinks(
                new MemoryCalendarLinkStore(),
                of.desk,
                id -> Optional.of(maker).filter(account -> account.id().equals(id) && account.isEnabled()),
                () -> of.now);
    }

    private Visitor visitor() {
        return new Visitor(maker, Set.of(), maker.sites(), Optional.empty(), Optional.empty());
    }

    private String secret() {
        return links.make(visitor(), Optional.empty()).orElseThrow().secret();
    }

    @Test
    void feed_ofAVisit_isValidByTwoLibrariesAndSaysWhatAndWhen() throws Exception {
        firm.open("a", "s0", Firm.TODAY.plusDays(4));
        firm.desk.plan();

        String text = links.read(secret()).orElseThrow();

        assertThat(new CalendarBuilder()
                        .build(new StringReader(text))
                        .validate()
                        .getEntries())
                .isEmpty();
        CalendarClient client = new CalendarClient();
        client.read(text);
        VEvent event = client.events().values().iterator().next();
        assertThat(event.getUid().getValue())
                .isEqualTo(firm.desk.list(SiteScope.EVERY, Filter.OPEN).get(0).id() + "@rimecast");
        assertThat(text)
                .contains(
                        "DTSTART;TZID=Europe/London:20260507T090000",
                        "DTEND;TZID=Europe/London:20260507T100000",
                        "REFRESH-INTERVAL;VALUE=DURATION:PT1H");
        assertThat(event.getDateStart().getValue().toInstant()).isEqualTo(Instant.parse("2026-05-07T08:00:00Z"));
        assertThat(event.getStatus().getValue()).isEqualTo("TENTATIVE");
        assertThat(event.getSummary().getValue()).isEqualTo("Proposed: Site s0 (m-a)");
        assertThat(event.getDescription().getValue()).isEqualTo("trouble a, m-a\nEngineer: Bo\nTake along: Part of a");
        assertThat(text.lines())
                .allSatisfy(line -> assertThat(line.getBytes(java.nio.charset.StandardCharsets.UTF_8))
                        .hasSizeLessThanOrEqualTo(75));
    }

    @Test
    void zone_overBothChangesOfAYear_givesTheTimesOfTheProduct() {
        for (String zone : List.of("Europe/London", "Australia/Sydney", "America/New_York", "Asia/Kolkata")) {
            for (int month = 1; month <= 12; month++) {
                VisitView visit = visit(ZoneId.of(zone), LocalDate.of(2026, month, 28));
                CalendarClient client = new CalendarClient();
                client.read(CalendarFeed.write(List.of(visit), Optional.empty()));

                assertThat(client.event(visit.id() + "@rimecast")
                                .getDateStart()
                                .getValue()
                                .toInstant())
                        .as("%s, month %s", zone, month)
                        .isEqualTo(visit.begins().toInstant());
            }
        }
    }

    /** Half an hour of daylight saving; what biweekly reads of it is an hour, so the text itself is looked at. */
    @Test
    void zone_withHalfAnHourOfDaylightSaving_saysBothOffsets() {
        VisitView visit = visit(ZoneId.of("Australia/Lord_Howe"), LocalDate.of(2026, 1, 28));

        assertThat(CalendarFeed.write(List.of(visit), Optional.empty()).lines())
                .containsSequence(
                        "BEGIN:DAYLIGHT",
                        "DTSTART:20251005T020000",
                        "TZOFFSETFROM:+1030",
                        "TZOFFSETTO:+1100",
                        "END:DAYLIGHT");
    }

    private static VisitView visit(ZoneId zone, LocalDate day) {
        return new VisitView(
                UUID.randomUUID(),
                "s",
                "Bar, with; comma",
                zone,
                Optional.empty(),
                day,
                570,
                60,
                "Bo",
                State.ACCEPTED,
                3,
                "",
                List.of(),
                Optional.empty(),
                List.of(),
                false,
                Firm.MONDAY,
                Firm.MONDAY,
                "Ada",
                List.of());
    }

    @Test
    void feed_withoutVisits_isValid() throws Exception {
        String text = links.read(secret()).orElseThrow();

        assertThat(new CalendarBuilder()
                        .build(new StringReader(text))
                        .validate()
                        .getEntries())
                .isEmpty();
        assertThat(text).contains("BEGIN:VTIMEZONE").doesNotContain("VEVENT");
    }

    @Test
    void feed_untilSomethingChanges_isTheSameText() {
        firm.open("a", "s0", Firm.TODAY.plusDays(4));
        firm.desk.plan();
        String secret = secret();
        String first = links.read(secret).orElseThrow();

        firm.now = firm.now.plusSeconds(3_600);
        firm.desk.plan();

        assertThat(links.read(secret)).contains(first);
    }

    @Test
    void link_ofOneEngineerOrSomeSites_showsThoseOnly() {
        firm.open("a", "s0", Firm.TODAY.plusDays(4));
        firm.open("b", "s1", Firm.TODAY, Optional.of(Firm.TODAY.plusDays(4)), Set.of("refrigeration"));
        firm.desk.plan();
        String ofCem = links.make(visitor(), Optional.of("Cem")).orElseThrow().secret();
        String ofAll = secret();

        assertThat(links.read(ofCem).orElseThrow()).contains("Site s1").doesNotContain("Site s0");
        maker = new Account(
                maker.id(),
                "Ada",
                Role.MANAGER,
                SiteScope.of(List.of("s0")),
                false,
                true,
                Firm.MONDAY,
                Optional.empty());
        assertThat(links.read(ofAll).orElseThrow()).contains("Site s0").doesNotContain("Site s1");
    }

    @Test
    void link_takenBackOrOfADisabledAccountOrUnknown_opensNothing() {
        CalendarLinks.Made made = links.make(visitor(), Optional.empty()).orElseThrow();
        String other = secret();

        assertThat(links.revoke(visitor(), made.link().id())).isTrue();
        assertThat(links.read(made.secret())).isEmpty();
        assertThat(links.read("no-such-secret")).isEmpty();
        assertThat(links.read(other)).isPresent();
        maker = new Account(
                maker.id(), "Ada", Role.MANAGER, SiteScope.EVERY, false, true, Firm.MONDAY, Optional.of(Firm.MONDAY));
        assertThat(links.read(other)).isEmpty();
    }

    @Test
    void client_throughAcceptMoveAndCancel_seesOneEventAndItsEnd() {
        firm.open("a", "s0", Firm.TODAY.plusDays(4));
        firm.desk.plan();
        VisitView visit = firm.desk.list(SiteScope.EVERY, Filter.OPEN).get(0);
        String uid = visit.id() + "@rimecast";
        String secret = secret();
        CalendarClient client = new CalendarClient();
        client.read(links.read(secret).orElseThrow());

        firm.desk.accept(visit.id(), 0, ADA, "");
        client.read(links.read(secret).orElseThrow());
        assertThat(client.event(uid).getStatus().getValue()).isEqualTo("CONFIRMED");

        firm.desk.move(visit.id(), 1, ADA, new Target(Firm.TODAY.plusDays(1), Optional.empty(), Optional.empty()), "");
        client.read(links.read(secret).orElseThrow());
        assertThat(client.event(uid).getDateStart().getValue().toInstant())
                .isEqualTo(Instant.parse("2026-05-05T08:00:00Z"));

        firm.needs.clear();
        firm.desk.cancel(visit.id(), 2, ADA, "the bar is closed");
        firm.now = firm.now.plus(Duration.ofDays(29));
        client.read(links.read(secret).orElseThrow());
        assertThat(client.event(uid).getStatus().getValue()).isEqualTo("CANCELLED");
        assertThat(client.events()).hasSize(1);
        firm.now = firm.now.plus(Duration.ofDays(2));
        client.read(links.read(secret).orElseThrow());
        assertThat(links.read(secret).orElseThrow()).doesNotContain("VEVENT");
    }

    @Test
    void client_ofAVisitByHand_throughMoveAndCancel_seesOneEventAndItsEnd() {
        UUID id = UUID.randomUUID();
        firm.desk.make(
                new NewVisit(
                        id,
                        "s0",
                        Firm.TODAY.plusDays(3),
                        570,
                        "Bo",
                        new VisitRequest(List.of("m-x", "m-y"), "Listen to the fan, then the other one.", "J-7", 120)),
                ADA);
        String uid = id + "@rimecast";
        String secret = secret();
        CalendarClient client = new CalendarClient();
        client.read(links.read(secret).orElseThrow());
        VEvent made = client.event(uid);
        assertThat(made.getStatus().getValue()).isEqualTo("CONFIRMED");
        assertThat(made.getSummary().getValue()).isEqualTo("Site s0 (m-x, m-y)");
        assertThat(made.getDescription().getValue())
                .isEqualTo("Listen to the fan, then the other one., m-x, m-y\nEngineer: Bo\nJob: J-7");
        assertThat(made.getDateStart().getValue().toInstant()).isEqualTo(Instant.parse("2026-05-07T08:30:00Z"));
        assertThat(made.getDateEnd().getValue().toInstant()).isEqualTo(Instant.parse("2026-05-07T10:30:00Z"));

        firm.open("a", "s0", Firm.TODAY.plusDays(4));
        firm.desk.plan();
        client.read(links.read(secret).orElseThrow());
        assertThat(client.event(uid).getSequence().getValue()).isEqualTo(1);
        firm.desk.move(id, 1, ADA, new Target(Firm.TODAY.plusDays(1), Optional.empty(), Optional.empty()), "");
        client.read(links.read(secret).orElseThrow());
        assertThat(client.event(uid).getDateStart().getValue().toInstant())
                .isEqualTo(Instant.parse("2026-05-05T08:00:00Z"));
        assertThat(client.events()).hasSize(1);

        firm.needs.clear();
        firm.desk.plan();
        firm.desk.cancel(id, firm.desk.one(id).orElseThrow().sequence(), ADA, "they mended it");
        client.read(links.read(secret).orElseThrow());
        assertThat(client.event(uid).getStatus().getValue()).isEqualTo("CANCELLED");
        assertThat(client.events()).hasSize(1);
    }

    @Test
    void client_throughRandomDays_hasWhatTheProductHas() {
        for (long seed = 500; seed < 515; seed++) {
            Firm days = new Firm(new MemoryVisitStore(), IceAhead.UNKNOWN);
            CalendarLinks ofDays = links(days);
            String secret =
                    ofDays.make(visitor(), Optional.empty()).orElseThrow().secret();
            CalendarClient client = new CalendarClient();
            String name = "seed " + seed;
            new RandomVisits(days, seed).run(60, all -> {
                client.read(ofDays.read(secret).orElseThrow());
                Map<String, VisitView> byUid = new HashMap<>();
                all.forEach(visit -> byUid.put(visit.id() + "@rimecast", visit));
                assertThat(client.events().keySet()).as(name).isEqualTo(byUid.keySet());
                client.events().forEach((uid, event) -> {
                    VisitView visit = Objects.requireNonNull(byUid.get(uid), uid);
                    assertThat(event.getDateStart().getValue().toInstant())
                            .as(name)
                            .isEqualTo(visit.begins().toInstant());
                    assertThat(event.getStatus().getValue().equals("CANCELLED"))
                            .as(name)
                            .isEqualTo(visit.state() == State.CANCELLED);
                    assertThat(event.getSequence().getValue()).as(name).isEqualTo(visit.sequence());
                });
            });
        }
    }
}
