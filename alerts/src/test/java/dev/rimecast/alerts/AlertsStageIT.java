package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static dev.rimecast.alerts.life.Findings.finding;
import static dev.rimecast.alerts.life.Findings.next;
import static dev.rimecast.alerts.life.Findings.raised;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.Actions.Outcome;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.alerts.view.ListPlace;
import dev.rimecast.alerts.view.MachineView;
import dev.rimecast.alerts.view.MachineView.FleetRow;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.RollupPoint;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.TracePoint;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.DeadLetterHeaders;
import dev.rimecast.telemetry.log.SiteRecord.Pack;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.junit.jupiter.api.Test;

/** The stage on a real broker and a real database. */
class AlertsStageIT extends StageBench {
    private static final Person ADA = new Person("ada");

    @Test
    void finding_fromRaiseToEnd_isAnAlertThatPeopleActOn() {
        Set<Change> changes = ConcurrentHashMap.newKeySet();
        stage.changes().subscribe(changes::add);
        know(register("ice-0001", "ice-0002"));
        Finding first = raised("ice-0001", Condition.SLOW_PULL_DOWN, NOON);

        engines.send(first);
        AlertView alert = await().until(() -> stage.views().alert(first.id()), Optional::isPresent)
                .orElseThrow();
        assertThat(alert.state()).isEqualTo(AlertState.UNACKNOWLEDGED);
        assertThat(alert.advice().about()).isEqualTo("slow-pull-down");
        // Medium, no forecast: two weeks, common practice of the trade.
        assertThat(alert.advice().latestDate()).contains(NOON.plus(Duration.ofDays(14)));
        await().until(() -> changes.contains(
                new Change("alert", "site-a", "ice-0001", first.id().toString())));

        assertThat(stage.actions().acknowledge(first.id(), alert.version() + 1, "ada", ""))
                .isInstanceOf(Outcome.Changed.class);
        assertThat(stage.actions().acknowledge(UUID.randomUUID(), 1, "ada", "")).isEqualTo(new Outcome.NoSuchAlert());
        Outcome done = stage.actions().acknowledge(first.id(), alert.version(), "ada", "parts ordered");
        assertThat(done).isInstanceOfSatisfying(Outcome.Done.class, d -> {
            assertThat(d.alert().state()).isEqualTo(AlertState.ACKNOWLEDGED);
            assertThat(d.alert().acknowledgedBy()).contains("ada");
        });
        assertThat(stage.actions().acknowledge(first.id(), alert.version() + 1, "bob", ""))
                .isInstanceOf(Outcome.NotAllowed.class);

        Finding worse = next(first, Step.UPDATED, Stage.AT_LIMIT, Priority.HIGH);
        engines.send(worse);
        awaitState(first.id(), AlertState.UNACKNOWLEDGED);
        assertThat(stage.views().alert(first.id()).orElseThrow().acknowledgedBy())
                .isEmpty();

        engines.send(next(worse, Step.CLEARED, Stage.AT_LIMIT, Priority.HIGH));
        AlertView over = awaitState(first.id(), AlertState.RETURNED_UNACKNOWLEDGED);
        assertThat(stage.actions().acknowledge(first.id(), over.version(), "bob", "it was the filter"))
                .isInstanceOf(Outcome.Done.class);

        AlertView end = awaitState(first.id(), AlertState.NORMAL);
        assertThat(end.audit())
                .extracting(AlertView.AuditLine::what)
                .containsExactly("raised", "acknowledged", "raised again", "returned to normal", "acknowledged");
        assertThatThrownBy(() -> engines.jdbi().useHandle(h -> h.execute("update alert_audit set who = 'mallory'")))
                .hasMessageContaining("append-only");
        assertThatThrownBy(() -> engines.jdbi().useHandle(h -> h.execute("delete from alert_audit")))
                .hasMessageContaining("append-only");
    }

    @Test
    void fleet_anyAlerts_isOrderedByTimeLeft() throws Exception {
        know(register("ice-1", "ice-2", "ice-3", "ice-4", "ice-5"));
        engines.send(finding("ice-4", Condition.LONG_FREEZE, NOON, 1, Step.RAISED, Stage.EARLY, Priority.MEDIUM));
        engines.send(finding("ice-3", Condition.LONG_FREEZE, NOON, 1, Step.RAISED, Stage.EARLY, Priority.LOW));
        engines.send(finding("ice-5", Condition.NOT_MAKING_ICE, NOON, 1, Step.RAISED, Stage.STOPPED, Priority.URGENT));
        engines.send(finding("ice-2", Condition.CLEANING_DUE, NOON, 1, Step.RAISED, Stage.EARLY, Priority.LOW));
        engines.flush();
        await().until(() -> engines.isTakenIn(Topics.FINDINGS));

        List<FleetRow> fleet = stage.views().fleet();

        assertThat(fleet).extracting(FleetRow::machine).containsExactly("ice-5", "ice-4", "ice-3", "ice-1", "ice-2");
        assertThat(fleet.get(0).actBy()).contains(NOON.plus(Duration.ofHours(24)));
        assertThat(fleet.get(2).actBy())
                .as("low priority waits for the next visit")
                .isEmpty();
        assertThat(fleet.get(4).leading())
                .as("care is not in the operator's list")
                .isEmpty();
        assertThat(stage.views().alerts(AlertFilter.openOf("ice-2"), 10)).hasSize(1);
    }

    @Test
    void lists_readInPages_areTheWholeOfThemOnceAndInOrder() throws Exception {
        AlertFilter mine = new AlertFilter(
                false,
                Optional.of("site-a"),
                Optional.empty(),
                Set.of(Condition.BIN_FULL_IMPLAUSIBLE, Condition.LAMP_DUE),
                Set.of(Priority.LOW));
        know(register("ice-1", "ice-2", "ice-3", "ice-4", "ice-5", "ice-6", "ice-7"));
        for (int i = 1; i <= 7; i++) {
            // two by two at the same moment
            Finding raised = finding(
                    "ice-" + i,
                    Condition.BIN_FULL_IMPLAUSIBLE,
                    NOON.minusSeconds(i / 2),
                    1,
                    Step.RAISED,
                    Stage.EARLY,
                    Priority.LOW);
            engines.send(raised);
            if (i > 4) {
                engines.send(next(raised, Step.CLEARED, Stage.EARLY, Priority.LOW));
            }
        }
        engines.flush();
        await().until(() -> engines.isTakenIn(Topics.FINDINGS));
        for (AlertView over : stage.views().alerts(mine, 10)) {
            if (over.clearedAt().isPresent()) {
                stage.actions().act(over.finding().id(), over.version(), ADA, new Action.Acknowledge(""));
            }
        }

        List<AlertView> alerts = stage.views().alerts(mine, 10);
        assertThat(alerts).hasSize(7);
        assertThat(alerts.subList(0, 4)).noneMatch(alert -> alert.state() == AlertState.NORMAL);
        assertThat(alerts.subList(4, 7)).allMatch(alert -> alert.state() == AlertState.NORMAL);
        assertThat(InPages.all(place -> stage.views().alerts(SiteScope.EVERY, mine, place, 2), said(ListPlace::behind)))
                .isEqualTo(alerts);
        assertThat(InPages.all(place -> stage.views().cases(SiteScope.EVERY, false, place, 2), said(ListPlace::behind)))
                .isEqualTo(stage.views().cases(false, 1_000))
                .hasSizeGreaterThanOrEqualTo(7);
        AlertFilter other =
                new AlertFilter(false, Optional.of("site-b"), Optional.empty(), mine.conditions(), mine.priorities());
        assertThat(stage.views().alerts(other, 10)).isEmpty();
    }

    /** As a client has it: the place behind a row, written and read again. */
    private static <T> Function<T, ListPlace> said(Function<T, ListPlace> behind) {
        return row -> ListPlace.parse(behind.apply(row).text()).orElseThrow();
    }

    @Test
    void packs_repeatedAndLate_countOnce() throws Exception {
        know(register("ice-0001"));
        Pack first = pack(NOON.plusSeconds(10), -10, 40);
        Pack second = pack(NOON.plusSeconds(70), -12, 44);
        Pack late = pack(NOON.plusSeconds(40), -2, 30);
        engines.send("site-a", first);
        engines.send("site-a", second);
        engines.send("site-a", first);
        engines.send("site-a", late);
        engines.send("site-a", late);
        engines.flush();
        await().until(() -> engines.isTakenIn(Topics.SITES));

        List<RollupPoint> points =
                stage.views().temperatures("ice-0001", NOON, NOON.plus(Duration.ofHours(1)), Duration.ofMinutes(15));
        assertThat(points).hasSize(1);
        // by hand: (-10 - 12 - 2) / 3 = -8; (40 + 44 + 30) / 3 = 38
        assertThat(points.get(0).evaporatorMean().orElseThrow()).isCloseTo(-8, within(1e-9));
        assertThat(points.get(0).evaporatorMin().orElseThrow()).isEqualTo(-12);
        assertThat(points.get(0).condenserMean().orElseThrow()).isCloseTo(38, within(1e-9));
        assertThat(points.get(0).condenserMax().orElseThrow()).isEqualTo(44);
        assertThat(points.get(0).waterMean()).isEmpty();
        assertThat(stage.views().trace("ice-0001", NOON, NOON.plusSeconds(60)))
                .as("in order, though the last came late; the one of 12:01:10 is after the end")
                .containsExactly(
                        new TracePoint(NOON, OptionalDouble.of(-10), OptionalDouble.of(40)),
                        new TracePoint(NOON.plusSeconds(40), OptionalDouble.of(-2), OptionalDouble.of(30)));
        assertThat(stage.views().gateways()).singleElement().satisfies(gateway -> {
            assertThat(gateway.machines()).containsExactly("ice-0001");
            assertThat(gateway.lastPackAt()).isPresent();
            assertThat(gateway.isOnline()).as("it never said").isEmpty();
        });
        MachineView machine = stage.views().machine("ice-0001").orElseThrow();
        assertThat(machine.lastReadingAt()).contains(NOON.plusSeconds(70));
        assertThat(machine.now().get(Channel.EVAPORATOR_TEMPERATURE))
                .isEqualTo(new MachineView.Now(NOON.plusSeconds(70), -12, ""));
        assertThat(stage.views().fleet().get(0).phase()).contains("freeze");
    }

    @Test
    void cycles_comeBackAsTheyWere() throws Exception {
        Cycle cycle = Story.cycle("ice-0001", NOON, NOON.plusSeconds(1500));
        engines.send("site-a", cycle);
        engines.send("site-a", cycle);
        engines.flush();
        await().until(() -> engines.isTakenIn(Topics.CYCLES));

        assertThat(stage.views().cycles("ice-0001", NOON, NOON.plusSeconds(1))).containsExactly(cycle);
        assertThat(stage.views().cycles("ice-0001", NOON.plusSeconds(1), NOON.plusSeconds(9)))
                .isEmpty();
    }

    /** Each transaction is a value of the system column xmin; who acts on an alert waits for the one that holds its site. */
    @Test
    void storm_isTakenInByMany_shortTransactions() throws Exception {
        List<Finding> storm = new ArrayList<>();
        for (int i = 0; i < 350; i++) {
            storm.add(raised("storm-%04d".formatted(i), Condition.LONG_FREEZE, NOON));
        }
        storm.forEach(engines::send);
        engines.flush();

        await().until(() -> engines.isTakenIn(Topics.FINDINGS));

        List<Integer> together = engines.jdbi()
                .withHandle(handle -> handle.createQuery(
                                "select count(*) from alert where machine like 'storm-%' group by xmin::text")
                        .mapTo(Integer.class)
                        .list());
        assertThat(together.stream().mapToInt(Integer::intValue).sum()).isEqualTo(350);
        assertThat(together).as("alerts of one transaction").allMatch(alerts -> alerts <= 100);
    }

    @Test
    void poison_amongGoodRecords_goesToTheDeadLettersAlone() throws Exception {
        Finding before = raised("ice-0077", Condition.LONG_FREEZE, NOON);
        Finding after = raised("ice-0077", Condition.LONG_HARVEST, NOON);
        engines.send(before);
        engines.send(Topics.FINDINGS, "site-a", "{\"no\":\"finding\"}".getBytes(StandardCharsets.UTF_8));
        engines.send(after);
        engines.flush();

        await().until(() -> engines.isTakenIn(Topics.FINDINGS));

        assertThat(stage.views().alert(before.id())).isPresent();
        assertThat(stage.views().alert(after.id())).isPresent();
        assertThat(letters("{\"no\":\"finding\"}")).singleElement().satisfies(letter -> {
            assertThat(new String(letter.headers().lastHeader("topic").value(), StandardCharsets.UTF_8))
                    .isEqualTo("findings");
            assertThat(new String(letter.headers().lastHeader("reason").value(), StandardCharsets.UTF_8))
                    .contains("MalformedRecord");
        });
        assertThat(stage.health().isUp()).isTrue();
    }

    @Test
    void letter_takenAgain_failsAgainBeforeTheMend_andIsAnAlertOnceAfterIt() throws Exception {
        Finding finding = raised("ice-0088", Condition.LONG_FREEZE, NOON);
        String payload = new String(FindingJson.encode(finding), StandardCharsets.UTF_8);
        engines.jdbi()
                .useHandle(h -> h.execute("alter table alert add constraint lemon check (machine <> 'ice-0088')"));
        engines.send(finding);
        engines.flush();
        await().until(() -> letters(payload).size() == 1);

        engines.send(Topics.DEAD_LETTERS, "site-a", FindingJson.encode(finding), order("one"));
        await().until(() -> letters(payload).size() == 2);
        assertThat(letters(payload).get(1)).satisfies(again -> {
            assertThat(header(again, DeadLetterHeaders.REPLAY_OF)).isEqualTo("one");
            assertThat(header(again, DeadLetterHeaders.TOPIC)).isEqualTo("findings");
            assertThat(header(again, DeadLetterHeaders.OFFSET)).isEqualTo("7");
            assertThat(header(again, DeadLetterHeaders.STAGE)).isEqualTo("alerts");
        });
        assertThat(stage.views().alert(finding.id())).isEmpty();

        engines.jdbi().useHandle(h -> h.execute("alter table alert drop constraint lemon"));
        engines.send(Topics.DEAD_LETTERS, "site-a", FindingJson.encode(finding), order("one"));
        engines.send(Topics.DEAD_LETTERS, "site-a", FindingJson.encode(finding), order("one"));
        engines.flush();
        await().until(() -> engines.isTakenIn(Topics.DEAD_LETTERS));

        assertThat(stage.views().alert(finding.id())).isPresent();
        assertThat(stage.views().alert(finding.id()).orElseThrow().audit())
                .as("a second order changes nothing")
                .extracting(AlertView.AuditLine::what)
                .containsExactly("raised");
        assertThat(letters(payload)).hasSize(2);
    }

    /** As whoever has a letter taken again writes it. */
    private static Map<String, String> order(String letter) {
        return Map.of(
                DeadLetterHeaders.REPLAYED, letter,
                DeadLetterHeaders.REPLAYED_BY, "Ada",
                DeadLetterHeaders.TOPIC, "findings",
                DeadLetterHeaders.PARTITION, "0",
                DeadLetterHeaders.OFFSET, "7");
    }

    /** Records that were put aside, orders left out. */
    private List<ConsumerRecord<byte[], byte[]>> letters(String payload) {
        return engines.records(Topics.DEAD_LETTERS).stream()
                .filter(letter -> letter.headers().lastHeader(DeadLetterHeaders.REPLAYED) == null)
                .filter(letter -> new String(letter.value(), StandardCharsets.UTF_8).equals(payload))
                .toList();
    }

    private static String header(ConsumerRecord<byte[], byte[]> of, String name) {
        return new String(of.headers().lastHeader(name).value(), StandardCharsets.UTF_8);
    }

    private AlertView awaitState(UUID id, AlertState state) {
        return await().until(
                        () -> stage.views().alert(id),
                        alert -> alert.map(AlertView::state).equals(Optional.of(state)))
                .orElseThrow();
    }

    private static Pack pack(Instant at, double evaporator, double condenser) {
        long millis = at.toEpochMilli();
        return new Pack(
                "gateway-a",
                Optional.empty(),
                at,
                List.of(
                        Reading.number("ice-0001", Channel.EVAPORATOR_TEMPERATURE, millis, evaporator),
                        Reading.number("ice-0001", Channel.CONDENSER_TEMPERATURE, millis, condenser),
                        Reading.phase("ice-0001", millis, Phase.FREEZE)),
                0);
    }
}
