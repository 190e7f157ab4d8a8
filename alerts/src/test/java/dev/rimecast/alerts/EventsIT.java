package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.register.ClosurePass;
import dev.rimecast.alerts.store.CycleStore;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.EventView;
import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.Events.Outcome;
import dev.rimecast.alerts.view.Events.Report;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.ScopedEvents;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.file.EventsFile;
import dev.rimecast.telemetry.file.csv.CsvTable.Numbered;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.log.SiteRecord.WarmestOfDay;
import dev.rimecast.telemetry.log.SiteRecord.WeatherExpected;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.io.ByteArrayInputStream;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Reports on a real database, their way into the site's log, and calls in their cases. */
class EventsIT extends StageBench {
    private static final Instant NOW = NOON.plusSeconds(3_600);
    private static final Person ADA = new Person("ada");

    EventsIT() {
        super(NOW);
    }

    private Events events;

    @BeforeAll
    void start() {
        events = stage.siteEvents();
        List<Machine> machines = List.of(
                Machine.basic("ice-a", "bar", "gw-bar"),
                Machine.basic("ice-b", "bar", "gw-bar"),
                Machine.basic("ice-c", "club", "gw-club"),
                Machine.basic("ice-h", "hotel", "gw-hotel"),
                Machine.basic("ice-l", "lodge", "gw-lodge"),
                Machine.basic("ice-i", "inn", "gw-inn"),
                Machine.basic("ice-e", "every", "gw-every"),
                Machine.basic("ice-s", "said", "gw-said"),
                Machine.basic("ice-1", "site-a", "gw-a"));
        know(new Register(machines, List.of(Site.basic("empty"))));
    }

    private static Report of(String machine, EventKind kind, Duration ago, String detail, String job) {
        return new Report(
                Optional.empty(), Optional.of(machine), Optional.of(NOW.minus(ago)), kind, detail, "Pim", job);
    }

    private static Report ofSite(String site, EventKind kind, String detail) {
        return new Report(Optional.of(site), Optional.empty(), Optional.empty(), kind, detail, "The bar", "");
    }

    private Outcome report(Report report) {
        return events.report(SiteScope.EVERY, List.of(report), ADA).get(0);
    }

    private static EventView added(Outcome outcome) {
        assertThat(outcome).isInstanceOf(Outcome.Added.class);
        return ((Outcome.Added) outcome).event();
    }

    @Test
    void report_twice_isInTheListAndTheLogOnce() {
        Report cleaned = of("ice-a", EventKind.CLEANED, Duration.ofHours(3), "", "J-100");

        EventView first = added(report(cleaned));
        Outcome again = report(cleaned);
        report(of("ice-a", EventKind.AIR_FILTER_WASHED, Duration.ofHours(3), "", "J-100"));

        assertThat(again).isEqualTo(new Outcome.Known(first));
        assertThat(first.enteredBy()).contains("ada");
        assertThat(first.enteredAt()).contains(NOW);
        assertThat(events.ofMachine(SiteScope.EVERY, "ice-a", Optional.empty(), 500))
                .filteredOn(event -> event.job().equals("J-100"))
                .hasSize(2);
        assertThat(events.newestOf(
                        SiteScope.EVERY, "ice-a", EnumSet.of(EventKind.AIR_FILTER_WASHED, EventKind.CLEANED)))
                .extracting(EventView::kind)
                .containsExactly(EventKind.CLEANED, EventKind.AIR_FILTER_WASHED);
        Happened expected = new Happened(
                NOW.minus(Duration.ofHours(3)), Optional.of("ice-a"), EventKind.CLEANED, "", "Pim", "J-100");
        Happened later = new Happened(
                NOW.minus(Duration.ofHours(3)), Optional.of("ice-a"), EventKind.AIR_FILTER_WASHED, "", "Pim", "J-100");
        await().untilAsserted(() -> assertThat(engines.siteLog("bar")).contains(later));
        assertThat(engines.siteLog("bar").stream().filter(expected::equals)).hasSize(1);
    }

    @Test
    void everyKind_oneByOneAndFromAFile_isInTheSitesLogWithItsJobNumber() throws Exception {
        List<Happened> expected = new ArrayList<>();
        StringBuilder csv = new StringBuilder("time,machine,event,detail,by,job\n");
        for (EventKind kind : EventKind.values()) {
            String detail = EventDetails.of(kind);
            added(report(of("ice-e", kind, Duration.ofHours(2), detail, "J-7" + kind.ordinal())));
            Instant later = NOW.minus(Duration.ofHours(1));
            csv.append(String.join(",", later.toString(), "ice-e", kind.code(), detail, "Pim", "J-8" + kind.ordinal()))
                    .append('\n');
            expected.add(new Happened(
                    NOW.minus(Duration.ofHours(2)), Optional.of("ice-e"), kind, detail, "Pim", "J-7" + kind.ordinal()));
            expected.add(new Happened(later, Optional.of("ice-e"), kind, detail, "Pim", "J-8" + kind.ordinal()));
        }
        List<Report> rows =
                EventsFile.readGoodRows(
                                "events.csv",
                                new ByteArrayInputStream(csv.toString().getBytes(UTF_8)))
                        .rows()
                        .stream()
                        .map(Numbered::value)
                        .map(row -> new Report(
                                row.site(),
                                row.machine(),
                                Optional.of(row.at()),
                                row.kind(),
                                row.detail(),
                                row.by(),
                                row.job()))
                        .toList();
        assertThat(events.report(SiteScope.EVERY, rows, ADA))
                .hasSize(EventKind.values().length)
                .hasOnlyElementsOfType(Outcome.Added.class);

        await().untilAsserted(() -> assertThat(engines.siteLog("every").stream().filter(Happened.class::isInstance))
                .containsExactlyInAnyOrderElementsOf(expected));
        assertThat(ofSite("every", 500)).extracting(EventView::job).hasSize(2 * EventKind.values().length);
    }

    /** Somebody on the phone says it, and nobody has a link or the alert's question before them. */
    @Test
    void answerOfASite_toAQuestion_isInTheHistoryOfItsOpenAlerts_andOneThatIsNoneIsRefused() throws Exception {
        Finding finding = Findings.raised("ice-s", Condition.LONG_FREEZE, NOON);
        engines.send(finding);
        engines.flush();
        await().until(() -> stage.views().alert(finding.id()).isPresent());

        added(report(of("ice-s", EventKind.SITE_ANSWER, Duration.ofMinutes(2), "air-filter:clean", "J-900")));
        added(report(of("ice-s", EventKind.SITE_ANSWER, Duration.ofMinutes(1), "It hums.", "J-900")));
        Outcome misspelt = report(of("ice-s", EventKind.SITE_ANSWER, Duration.ZERO, "air-filter:cleen", "J-900"));
        Outcome ofNoMachine = report(ofSite("said", EventKind.SITE_ANSWER, "air-filter:clean"));

        assertThat(stage.views().alert(finding.id()).orElseThrow().audit())
                .filteredOn(line -> line.what().equals("answered"))
                .singleElement()
                .satisfies(line -> {
                    assertThat(line.who()).isEqualTo("ada");
                    assertThat(line.why()).isEqualTo("Air filter: it is clean (said by Pim)");
                });
        assertThat(((Outcome.Refused) misspelt).reason()).contains("was-full, clean, none-there");
        assertThat(((Outcome.Refused) ofNoMachine).member()).isEqualTo("machine");
        assertThat(ofSite("said", 10)).hasSize(2);
    }

    @Test
    void weather_ofSites_isInTheirLogs_andOthersAreNamed() {
        List<WarmestOfDay> days = List.of(
                new WarmestOfDay(LocalDate.of(2026, 7, 1), 31.5), new WarmestOfDay(LocalDate.of(2026, 7, 2), 33));

        Set<String> missing = events.expectWeather(
                SiteScope.of(Set.of("bar", "nowhere")), Map.of("bar", days, "club", days, "nowhere", days));

        assertThat(missing).containsExactly("club", "nowhere");
        WeatherExpected expected = new WeatherExpected(NOW, days);
        await().untilAsserted(() -> assertThat(engines.siteLog("bar")).contains(expected));
        assertThat(engines.siteLog("club")).doesNotContain(expected);
    }

    @Test
    void report_sameJobWithOtherWords_standsAsItWasExceptParts() {
        report(of("ice-b", EventKind.VISIT, Duration.ofHours(4), "fan-weak", "J-200"));
        report(of("ice-b", EventKind.PART_REPLACED, Duration.ofHours(4), "fan", "J-200"));

        Outcome visit = report(of("ice-b", EventKind.VISIT, Duration.ofHours(4), "fan-failed", "J-200"));
        Outcome part = report(of("ice-b", EventKind.PART_REPLACED, Duration.ofHours(4), "capacitor", "J-200"));
        Outcome elsewhere = report(of("ice-a", EventKind.VISIT, Duration.ofHours(4), "fan-weak", "J-200"));

        assertThat(((Outcome.Known) visit).event().detail()).isEqualTo("fan-weak");
        added(part);
        added(elsewhere);
    }

    @Test
    void reports_atOnceWithBadOnesAmongThem_endEachForItself() {
        List<Outcome> outcomes = events.report(
                SiteScope.EVERY,
                List.of(
                        of("ice-a", EventKind.LAMP_CHANGED, Duration.ofDays(60), "", "J-300"),
                        of("ice-a", EventKind.LAMP_CHANGED, Duration.ofDays(60).plusMillis(1), "", "J-301"),
                        of("ice-a", EventKind.LAMP_CHANGED, Duration.ofMinutes(-10), "", "J-302"),
                        of(
                                "ice-a",
                                EventKind.LAMP_CHANGED,
                                Duration.ofMinutes(-10).minusMillis(1),
                                "",
                                "J-303"),
                        of("ice-a", EventKind.CALL, Duration.ZERO, "cold feet", ""),
                        of("ice-a", EventKind.CLEANED, Duration.ZERO, "", "J\u0000-304"),
                        of("nobodys", EventKind.CLEANED, Duration.ZERO, "", ""),
                        new Report(
                                Optional.of("club"),
                                Optional.of("ice-a"),
                                Optional.empty(),
                                EventKind.CLEANED,
                                "",
                                "",
                                "")),
                ADA);

        added(outcomes.get(0));
        assertThat(((Outcome.Refused) outcomes.get(1)).reason()).contains("60 days");
        added(outcomes.get(2));
        assertThat(((Outcome.Refused) outcomes.get(3)).reason()).contains("future");
        assertThat(((Outcome.Refused) outcomes.get(4)).member()).isEqualTo("detail");
        assertThat(((Outcome.Refused) outcomes.get(5)).member()).isEqualTo("job");
        assertThat(((Outcome.NotFound) outcomes.get(6)).what()).contains("nobodys");
        assertThat(((Outcome.Refused) outcomes.get(7)).reason()).contains("stands on site bar");
    }

    @Test
    void call_ofAMachineWithAnOpenCase_joinsItAndIsShown() throws Exception {
        Finding finding = Findings.raised("ice-1", Condition.LONG_FREEZE, NOON);
        engines.send(finding);
        engines.flush();
        await().until(() -> stage.views().alert(finding.id()).isPresent());

        EventView call = added(report(of("ice-1", EventKind.CALL, Duration.ofMinutes(5), "no-ice", "J-400")));

        CaseView joined = stage.views()
                .caseOf(stage.views().alert(finding.id()).orElseThrow().caseId().orElseThrow())
                .orElseThrow();
        assertThat(call.caseId()).contains(joined.id());
        assertThat(joined.calls()).singleElement().satisfies(shown -> {
            assertThat(shown.machine()).contains("ice-1");
            assertThat(shown.detail()).isEqualTo("no-ice");
            assertThat(shown.job()).isEqualTo("J-400");
        });
        assertThat(joined.audit()).anySatisfy(line -> assertThat(line.what()).isEqualTo("call joined"));
    }

    @Test
    void call_ofASiteWithoutAMachine_opensACaseThatTheNextCallJoins() {
        EventView first = added(report(ofSite("empty", EventKind.CALL, "no-ice")));
        EventView second = added(report(ofSite("empty", EventKind.CALL, "noise")));

        CaseView opened = stage.views().caseOf(first.caseId().orElseThrow()).orElseThrow();
        assertThat(second.caseId()).isEqualTo(first.caseId());
        assertThat(opened.site()).isEqualTo("empty");
        assertThat(opened.subject()).contains("site:empty");
        assertThat(opened.calls()).hasSize(2);
    }

    @Test
    void lists_inPagesAndOfOneMachine_haveEachOnceWithTheSitesOwn() {
        List<Report> many = new ArrayList<>();
        for (int i = 0; i < 450; i++) {
            many.add(of("ice-c", EventKind.CLEANED, Duration.ofMinutes(i), "", "J-5" + i));
        }
        assertThat(events.report(SiteScope.EVERY, many, ADA)).hasOnlyElementsOfType(Outcome.Added.class);
        assertThat(events.report(SiteScope.EVERY, many, ADA)).hasOnlyElementsOfType(Outcome.Known.class);
        added(report(new Report(
                Optional.of("club"),
                Optional.empty(),
                Optional.of(NOW.minus(Duration.ofDays(1))),
                EventKind.CLOSED_FROM,
                "",
                "",
                "")));

        List<EventView> seen = new ArrayList<>();
        List<EventView> page;
        Optional<Long> before = Optional.empty();
        do {
            page = events.ofMachine(SiteScope.EVERY, "ice-c", before, 100);
            seen.addAll(page);
            before = seen.isEmpty()
                    ? before
                    : Optional.of(seen.get(seen.size() - 1).id());
        } while (!page.isEmpty());

        assertThat(seen).hasSize(451).doesNotHaveDuplicates();
        assertThat(seen).extracting(EventView::at).isSortedAccordingTo((a, b) -> b.compareTo(a));
        assertThat(seen).last().extracting(EventView::kind).isEqualTo(EventKind.CLOSED_FROM);
    }

    /** Three sites that closed: one works as before, one fills up what melts and said so twice, one said when it opens. */
    @Test
    void closure_endsByItself_whereIceIsMadeAsBefore_orAsWasSaid() {
        Instant closed = NOW.minus(Duration.ofDays(10));
        Instant before = NOW.minus(Duration.ofDays(34));
        closes("hotel", closed, "");
        closes("lodge", before, "");
        closes("lodge", NOW.minus(Duration.ofDays(4)), "2027-03-01");
        closes("inn", closed, LocalDate.ofInstant(NOW, ZoneOffset.UTC).toString());
        List<Cycle> made = new ArrayList<>();
        for (int hour = 2; hour < 28 * 24; hour += 3) {
            made.add(hourBefore("ice-h", closed, hour));
            made.add(hourBefore("ice-l", before, hour));
        }
        for (int hour = 1; hour < 60; hour += 3) {
            made.add(hourBefore("ice-h", NOW, hour));
        }
        for (int hour = 5; hour < 34 * 24; hour += 12) {
            made.add(hourBefore("ice-l", NOW, hour));
        }
        try (Database database = Database.open(engines.login(), 2)) {
            database.jdbi().useTransaction(handle -> CycleStore.write(handle, made));
            ClosurePass pass = new ClosurePass(database, stage.siteEvents());
            pass.run(NOW);
            pass.run(NOW.plus(Duration.ofHours(2)));
        }

        assertThat(ofSite("hotel"))
                .extracting(EventView::kind)
                .containsExactly(EventKind.CLOSED_TO, EventKind.CLOSED_FROM);
        assertThat(ofSite("hotel").get(0).detail()).startsWith("ice is made as on open days: ");
        assertThat(ofSite("inn")).extracting(EventView::detail).contains("as was said when it closed");
        assertThat(ofSite("lodge"))
                .extracting(EventView::kind)
                .containsExactly(EventKind.CLOSED_FROM, EventKind.CLOSED_FROM);
        await().untilAsserted(() -> assertThat(engines.siteLog("hotel").stream()
                        .filter(Happened.class::isInstance)
                        .map(each -> ((Happened) each).kind()))
                .containsExactly(EventKind.CLOSED_FROM, EventKind.CLOSED_TO));
    }

    private void closes(String site, Instant at, String opens) {
        added(report(new Report(
                Optional.of(site), Optional.empty(), Optional.of(at), EventKind.CLOSED_FROM, opens, "", "")));
    }

    private List<EventView> ofSite(String site) {
        return ofSite(site, 10);
    }

    private List<EventView> ofSite(String site, int limit) {
        return events.ofSite(SiteScope.EVERY, site, Optional.empty(), limit);
    }

    private static Cycle hourBefore(String machine, Instant at, int hours) {
        Instant start = at.minus(Duration.ofHours(hours));
        return Story.cycle(machine, start, start.plus(Duration.ofMinutes(25)));
    }

    @Test
    void scope_ofAnotherSite_seesAndReportsNothing() {
        Events elsewhere = ScopedEvents.of(events, SiteScope.of(List.of("empty")));

        List<Outcome> outcomes = elsewhere.report(
                SiteScope.EVERY,
                List.of(
                        of("ice-a", EventKind.CLEANED, Duration.ofMinutes(1), "", "J-600"),
                        ofSite("bar", EventKind.CALL, "no-ice")),
                ADA);

        assertThat(outcomes).hasOnlyElementsOfType(Outcome.NotFound.class);
        assertThat(elsewhere.ofMachine(SiteScope.EVERY, "ice-a", Optional.empty(), 10))
                .isEmpty();
        assertThat(elsewhere.ofSite(SiteScope.EVERY, "bar", Optional.empty(), 10))
                .isEmpty();
        assertThat(elsewhere.newestOf(SiteScope.EVERY, "ice-a", EnumSet.allOf(EventKind.class)))
                .isEmpty();
        assertThat(events.ofSite(SiteScope.EVERY, "bar", Optional.empty(), 500))
                .noneMatch(event -> event.job().equals("J-600"));
    }
}
