package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.view.EventView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.Charge;
import dev.rimecast.alerts.work.Deed;
import dev.rimecast.alerts.work.Done;
import dev.rimecast.alerts.work.Found;
import dev.rimecast.alerts.work.FoundCause;
import dev.rimecast.alerts.work.MissedCall;
import dev.rimecast.alerts.work.Past;
import dev.rimecast.alerts.work.ScopedWork;
import dev.rimecast.alerts.work.StoredWork;
import dev.rimecast.alerts.work.Work;
import dev.rimecast.alerts.work.Work.Outcome;
import dev.rimecast.alerts.work.WorkReport;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Cause.Origin;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Reports of work on a real database: stored once, with their events in the site's log and a line in the case. */
class WorkIT extends StageBench {
    private static final Instant NOW = NOON.plusSeconds(3_600);
    private static final Person ADA = new Person("ada");

    private Work work;

    WorkIT() {
        super(NOW);
    }

    @BeforeAll
    void start() {
        work = stage.work();
        know(new Register(
                List.of(
                        Machine.basic("ice-a", "bar", "gw-bar"),
                        Machine.basic("ice-b", "bar", "gw-bar"),
                        Machine.basic("ice-c", "club", "gw-club"),
                        Machine.basic("ice-1", "site-a", "gw-a"),
                        Machine.basic("ice-2", "site-a", "gw-a"),
                        Machine.basic("ice-3", "site-b", "gw-b"),
                        Machine.basic("ice-4", "site-a", "gw-a"),
                        Machine.basic("ice-5", "site-a", "gw-a")),
                List.of()));
    }

    private static WorkReport report(UUID id, Instant at, Optional<UUID> caseId, Done... done) {
        return new WorkReport(
                id,
                at,
                new Found.ACause(Cause.FAN_WEAK),
                Optional.of(Origin.WEAR),
                List.of(done),
                Optional.of(Charge.CHARGEABLE),
                "J-" + id.toString().substring(0, 4),
                "bearing dry",
                "Pim",
                "",
                Optional.empty(),
                caseId);
    }

    private static StoredWork added(Outcome outcome) {
        assertThat(outcome).isInstanceOf(Outcome.Added.class);
        return ((Outcome.Added) outcome).work();
    }

    private List<Happened> logged(String site, String job) {
        return engines.siteLog(site).stream()
                .filter(Happened.class::isInstance)
                .map(Happened.class::cast)
                .filter(event -> event.job().equals(job))
                .toList();
    }

    @Test
    void reports_readOneByOne_areAllOfThemOnceTheNewestFirst() {
        Instant at = NOW.minusSeconds(900);
        for (Instant each : List.of(at, at, at.minusSeconds(60))) {
            added(work.report(
                    SiteScope.EVERY,
                    "ice-b",
                    report(UUID.randomUUID(), each, Optional.empty(), Done.of(Deed.CLEANED)),
                    ADA));
        }

        List<StoredWork> all = work.ofMachine(SiteScope.EVERY, "ice-b", Optional.empty(), 500);
        List<StoredWork> oneByOne = InPages.all(
                after -> work.ofMachine(SiteScope.EVERY, "ice-b", after, 1),
                (StoredWork each) -> each.report().id());
        assertThat(oneByOne).isEqualTo(all).hasSizeGreaterThanOrEqualTo(3);
    }

    @Test
    void report_sentTwice_isStoredOnceWithItsEventsInTheLog() {
        WorkReport report = report(
                UUID.randomUUID(),
                NOW.minusSeconds(300),
                Optional.empty(),
                Done.of(Deed.PART_REPLACED, "fan motor"),
                Done.of(Deed.CLEANED),
                new Done(Deed.REFRIGERANT_ADDED, "R290", Optional.of(40)));

        StoredWork first = added(work.report(SiteScope.EVERY, "ice-b", report, ADA));
        Outcome again = work.report(SiteScope.EVERY, "ice-b", report, new Person("bo"));

        assertThat(again).isEqualTo(new Outcome.Known(first));
        assertThat(first.report()).isEqualTo(report);
        assertThat(work.one(SiteScope.EVERY, report.id())).contains(first);
        assertThat(work.ofMachine(SiteScope.EVERY, "ice-b", Optional.empty(), 50))
                .contains(first);
        assertThat(work.between(
                        SiteScope.EVERY,
                        Optional.of("ice-b"),
                        report.at(),
                        report.at().plusMillis(1)))
                .containsExactly(first);
        assertThat(work.between(SiteScope.EVERY, Optional.empty(), report.at().plusMillis(1), NOW.plusSeconds(1)))
                .doesNotContain(first);
        await().untilAsserted(() -> assertThat(logged("bar", report.job())).hasSize(4));
        assertThat(logged("bar", report.job()))
                .extracting(Happened::kind, Happened::detail)
                .containsExactly(
                        tuple(EventKind.VISIT, "fan-weak"),
                        tuple(EventKind.PART_REPLACED, "fan motor"),
                        tuple(EventKind.PART_REPLACED, "refrigerant charge"),
                        tuple(EventKind.CLEANED, ""));
        assertThat(stage.siteEvents().newestOf(SiteScope.EVERY, "ice-b", Set.of(EventKind.CLEANED)))
                .extracting(EventView::at)
                .containsExactly(report.at());
    }

    @Test
    void report_sentManyTimesAtOnce_isStoredOnce() throws Exception {
        WorkReport report = report(UUID.randomUUID(), NOW.minusSeconds(5), Optional.empty(), Done.of(Deed.DESCALED));
        Callable<Outcome> send = () -> work.report(SiteScope.EVERY, "ice-c", report, ADA);
        ExecutorService threads = Executors.newFixedThreadPool(4);
        try {
            List<Outcome> outcomes = threads
                    .invokeAll(Stream.generate(() -> send).limit(12).toList())
                    .stream()
                    .map(future -> {
                        try {
                            return future.get();
                        } catch (Exception e) {
                            throw new IllegalStateException(e);
                        }
                    })
                    .toList();
            assertThat(outcomes.stream().filter(Outcome.Added.class::isInstance))
                    .hasSize(1);
            assertThat(outcomes.stream().filter(Outcome.Known.class::isInstance))
                    .hasSize(11);
        } finally {
            threads.shutdownNow();
        }
        assertThat(stage.siteEvents().ofMachine(SiteScope.EVERY, "ice-c", Optional.empty(), 500))
                .filteredOn(event -> event.job().equals(report.job()))
                .hasSize(2);
    }

    @Test
    void report_ofAMachineInACase_isALineOfThatCase() throws Exception {
        Finding finding = Findings.raised("ice-1", Condition.LONG_FREEZE, NOON);
        engines.send(finding);
        engines.flush();
        UUID id = finding.id();
        await().until(() -> stage.views().alert(id).isPresent());

        StoredWork stored = added(work.report(
                SiteScope.EVERY,
                "ice-1",
                report(UUID.randomUUID(), NOW, Optional.empty(), Done.of(Deed.ADJUSTED, "fan")),
                ADA));

        UUID caseId = stage.views().alert(id).orElseThrow().caseId().orElseThrow();
        assertThat(stored.report().caseId()).contains(caseId);
        assertThat(stage.views().caseOf(caseId).orElseThrow().audit()).anySatisfy(line -> {
            assertThat(line.what()).isEqualTo("work reported");
            assertThat(line.why()).isEqualTo("ice-1: fan-weak");
            assertThat(line.who()).isEqualTo("Pim");
        });
    }

    @Test
    void report_elsewhereOrWrong_storesNothing() {
        WorkReport good = report(UUID.randomUUID(), NOW, Optional.empty(), Done.of(Deed.CLEANED));
        Work club = ScopedWork.of(work, SiteScope.of(List.of("club")));
        WorkReport ofNoCase = report(UUID.randomUUID(), NOW, Optional.of(UUID.randomUUID()), Done.of(Deed.CLEANED));

        assertThat(club.report(SiteScope.EVERY, "ice-a", good, ADA)).isInstanceOf(Outcome.NotFound.class);
        assertThat(work.report(SiteScope.EVERY, "nobodys", good, ADA)).isInstanceOf(Outcome.NotFound.class);
        assertThat(((Outcome.Refused) work.report(SiteScope.EVERY, "ice-a", ofNoCase, ADA)).member())
                .isEqualTo("caseId");
        assertThat(((Outcome.Refused) work.report(
                                SiteScope.EVERY, "ice-a", report(UUID.randomUUID(), NOW, Optional.empty()), ADA))
                        .member())
                .isEqualTo("done");
        assertThat(work.one(SiteScope.EVERY, good.id())).isEmpty();

        StoredWork stored = added(work.report(SiteScope.EVERY, "ice-a", good, ADA));
        assertThat(club.one(SiteScope.EVERY, good.id())).isEmpty();
        assertThat(club.ofMachine(SiteScope.EVERY, "ice-a", Optional.empty(), 10))
                .isEmpty();
        assertThat(club.between(SiteScope.EVERY, Optional.empty(), NOON, NOW.plusSeconds(60)))
                .noneMatch(each -> each.site().equals("bar"));
        assertThat(((Outcome.Refused) work.report(SiteScope.EVERY, "ice-b", good, ADA)).member())
                .isEqualTo("id");
        assertThat(stored.enteredBy()).isEqualTo("ada");
    }

    @Test
    void outcomes_ofACase_areItsLastCauseAndWhenItStopped() throws Exception {
        Finding raised = Findings.raised("ice-2", Condition.LONG_FREEZE, NOON.minusSeconds(7_200));
        Finding stopped = Findings.next(raised, Step.UPDATED, Stage.STOPPED, Priority.URGENT);
        engines.send(raised);
        engines.send(stopped);
        engines.flush();
        await().until(() -> stage.views()
                .alert(raised.id())
                .filter(alert -> alert.finding().revision() == 2)
                .isPresent());
        UUID caseId = stage.views().alert(raised.id()).orElseThrow().caseId().orElseThrow();
        Done done = Done.of(Deed.ADJUSTED);
        added(work.report(
                SiteScope.EVERY,
                "ice-2",
                report(UUID.randomUUID(), NOW.minusSeconds(900), Optional.of(caseId), done),
                ADA));
        WorkReport last = found(new Found.ACause(Cause.FAN_FAILED), NOW.minusSeconds(60), Optional.of(caseId));
        added(work.report(SiteScope.EVERY, "ice-2", last, ADA));
        added(work.report(SiteScope.EVERY, "ice-2", found(new Found.Nothing(), NOW, Optional.of(caseId)), ADA));
        stage.siteEvents()
                .report(new Happened(NOW, Optional.of("ice-3"), EventKind.VISIT, "scale", "Pim", "J-9"), "site-b");

        assertThat(work.outcomes(SiteScope.of(List.of("site-a", "site-b"))))
                .extracting(FoundCause::truth)
                .filteredOn(row -> Set.of("ice-2", "ice-3").contains(row.machine()))
                .containsExactly(
                        new TruthRow(
                                "ice-2",
                                Optional.of(Cause.FAN_FAILED),
                                Optional.empty(),
                                Optional.of(stopped.at()),
                                Optional.empty()),
                        new TruthRow(
                                "ice-3",
                                Optional.of(Cause.SCALE),
                                Optional.empty(),
                                Optional.empty(),
                                Optional.empty()));
        assertThat(work.outcomes(SiteScope.of(List.of("site-b"))))
                .extracting(found -> found.truth().machine())
                .containsExactly("ice-3");
    }

    private static WorkReport found(Found found, Instant at, Optional<UUID> caseId) {
        return new WorkReport(
                UUID.randomUUID(),
                at,
                found,
                Optional.empty(),
                List.of(Done.of(Deed.NOTHING)),
                Optional.empty(),
                "",
                "",
                "",
                "",
                Optional.empty(),
                caseId);
    }

    @Test
    void missedCalls_areThoseThatNoAlertStoodBefore() throws Exception {
        Finding warned = Findings.raised("ice-4", Condition.LONG_FREEZE, NOON.minus(Duration.ofDays(9)));
        Finding over = Findings.next(warned, Step.CLEARED, Stage.EARLY, Priority.LOW);
        Finding care = Findings.raised("ice-5", Condition.CLEANING_DUE, NOON.minus(Duration.ofDays(9)));
        Finding silent = Findings.raised("ice-5", Condition.MACHINE_SILENT, NOON.minus(Duration.ofHours(1)));
        for (Finding each : List.of(warned, over, care, silent)) {
            engines.send(each);
        }
        engines.flush();
        await().until(() -> stage.views().alert(silent.id()).isPresent()
                && stage.views()
                        .alert(warned.id())
                        .filter(alert -> alert.finding().revision() == 2)
                        .isPresent());
        Instant cleared = over.at();
        call("ice-4", cleared.plus(Duration.ofHours(72)), "in time");
        call("ice-4", cleared.plus(Duration.ofHours(72)).plusMillis(1), "too late");
        call("ice-4", warned.raisedAt().minusMillis(1), "before");
        call("ice-5", NOW, "care only");

        assertThat(work.missedCalls(
                        SiteScope.of(List.of("site-a")), NOON.minus(Duration.ofDays(10)), NOW.plusSeconds(1)))
                .filteredOn(call -> call.job().startsWith("missed-"))
                .extracting(MissedCall::by, MissedCall::wasSilent)
                .containsExactly(tuple("before", false), tuple("too late", false), tuple("care only", true));
        assertThat(work.missedCalls(SiteScope.of(List.of("bar")), NOON.minus(Duration.ofDays(10)), NOW.plusSeconds(1)))
                .isEmpty();
    }

    private void call(String machine, Instant at, String by) {
        stage.siteEvents()
                .report(
                        new Happened(at, Optional.of(machine), EventKind.CALL, "no-ice", by, "missed-" + machine),
                        "site-a");
    }

    @Test
    void past_ofCasesStopsAndCycles_holdsWhatEndedAndStood() {
        UUID caseId = UUID.randomUUID();
        Instant from = NOON.minusSeconds(500 * 86_400L);
        engines.jdbi().useHandle(handle -> {
            handle.execute(
                    "insert into alert_case (id, site, subject, opened_at, latest_at, closed_at, version, announced)"
                            + " values (?, 'site-past', 'ice-p', ?, ?, ?, 1, false)",
                    caseId,
                    from.atOffset(ZoneOffset.UTC),
                    from.atOffset(ZoneOffset.UTC),
                    from.plusSeconds(40_000).atOffset(ZoneOffset.UTC));
            handle.createUpdate("""
                    insert into alert (id, subject, machine, site, condition, revision, stage, priority, raised_at, changed_at,
                        cleared_at, severity_since, state, version, announced, finding, case_id)
                    values (:case, 'ice-p', 'ice-p', 'site-past', 'not-making-ice', 2, 'stopped', 'urgent', :from, :from,
                        cast(:from as timestamptz) + interval '10 hours', :from, 'normal', 1, false,
                        '{"causes":[{"cause":"curtain-misplaced","probability":0.8}]}', :case);
                    insert into finding_revision (alert, revision, step, at, finding)
                    values (:case, 1, 'raised', cast(:from as timestamptz) + interval '2 hours', '{"stage":"stopped"}');
                    insert into alert_hold (id, kind, subject, site, condition, who, why, since, ended_at, ended_by, ended_why)
                    select id, 'suppressed', subject, site, condition, 'site-closed', 'closed', raised_at + interval '3 hours',
                        raised_at + interval '4 hours', 'rules', 'open' from alert where id = :case""").bind("from", from).bind("case", caseId).execute();
            handle.execute(
                    "insert into site_event (site, machine, happened, kind, detail, who, job) values"
                            + " ('site-past', 'ice-p', ?, 'site-answer', 'curtain:was-wrong', 'bar', '')",
                    from.plusSeconds(9_000).atOffset(ZoneOffset.UTC));
        });

        Past past = work.past(SiteScope.of(List.of("site-past")), from, from.plusSeconds(86_400));
        assertThat(past.stops())
                .containsExactly(
                        new Past.Stop("ice-p", from.plusSeconds(7_200), from.plusSeconds(10_800)),
                        new Past.Stop("ice-p", from.plusSeconds(14_400), from.plusSeconds(36_000)));
        assertThat(past.cases())
                .containsExactly(
                        new Past.Ended(caseId, false, false, true, Optional.empty(), Optional.of(Origin.SITE)));
        assertThat(work.past(SiteScope.of(List.of("bar")), from, from.plusSeconds(86_400)))
                .isEqualTo(new Past(List.of(), List.of(), Set.of(), 0));
    }

    @Test
    void rows_onceStored_areNotChanged() {
        added(work.report(
                SiteScope.EVERY,
                "ice-a",
                report(UUID.randomUUID(), NOW, Optional.empty(), Done.of(Deed.LAMP_CHANGED)),
                ADA));
        for (String change :
                List.of("update work_report set note = 'x'", "delete from work_done", "truncate work_report cascade")) {
            assertThatThrownBy(() -> engines.jdbi().useHandle(handle -> handle.execute(change)))
                    .hasMessageContaining("append-only");
        }
    }
}
