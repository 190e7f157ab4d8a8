package dev.rimecast.alerts.cases;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.cases.CaseRules.Placement;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** What is one problem and what is two: common practice of the trade. */
class CaseRulesTest {
    private final CaseRules rules = new CaseRules(CaseBook.standard());
    private final List<OpenCase> open = new ArrayList<>();

    @Test
    void machine_sharedCause_isOneCase() {
        Placement first = place("ice-1", Condition.RISING_CONDENSING_TEMPERATURE, NOON, Cause.AIRFLOW_RESTRICTED, 0.7);
        Placement second = place("ice-1", Condition.LONG_FREEZE, NOON.plus(days(9)), Cause.AIRFLOW_RESTRICTED, 0.5);

        assertThat(first.opens()).isTrue();
        assertThat(second.opens()).isFalse();
        assertThat(second.id()).isEqualTo(first.id());
        assertThat(second.cause()).contains(Cause.AIRFLOW_RESTRICTED);
    }

    @Test
    void machine_causesThatExclude_areTwoCases() {
        Placement air = place("ice-1", Condition.RISING_CONDENSING_TEMPERATURE, NOON, Cause.AIRFLOW_RESTRICTED, 0.7);
        Placement drain = place("ice-1", Condition.DRAIN_PUMP_OVERRUN, NOON, Cause.DRAIN_BLOCKED, 0.6);

        assertThat(drain.id()).isNotEqualTo(air.id());
    }

    @Test
    void machine_noCauseTold_joinsWhatItsMachineHas() {
        Placement air = place("ice-1", Condition.RISING_CONDENSING_TEMPERATURE, NOON, Cause.AIRFLOW_RESTRICTED, 0.7);
        Placement untold = place("ice-1", Condition.LOW_OUTPUT, NOON, Cause.SCALE, 0.2);
        Placement other = place("ice-2", Condition.LOW_OUTPUT, NOON, Cause.SCALE, 0.2);

        assertThat(untold.id()).isEqualTo(air.id());
        assertThat(other.id()).isNotEqualTo(air.id());
    }

    @Test
    void site_waterShut_isOneCaseNotTwelve() {
        Set<Object> ids = new java.util.HashSet<>();
        for (int machine = 0; machine < 12; machine++) {
            ids.add(place(
                            "ice-" + machine,
                            Condition.NOT_MAKING_ICE,
                            NOON.plusSeconds(600L * machine),
                            Cause.WATER_SUPPLY_LOW,
                            0.6)
                    .id());
        }

        assertThat(ids).hasSize(1);
        assertThat(open)
                .singleElement()
                .satisfies(only -> assertThat(only.machines()).hasSize(12));
    }

    /** A breaker that falls in the evening: each machine is missed by its own habit, the last one in the morning. */
    @Test
    void site_powerOffMissedOneByOneOverANight_isOneCase() {
        Placement evening = place("ice-1", Condition.MACHINE_SILENT, NOON, Cause.POWER_OFF, 0.6);
        Placement night = place("ice-2", Condition.NOT_MAKING_ICE, NOON.plusSeconds(5 * 3600), Cause.POWER_OFF, 0.9);
        Placement morning = place("ice-3", Condition.NOT_MAKING_ICE, NOON.plusSeconds(16 * 3600), Cause.POWER_OFF, 0.6);

        assertThat(night.id()).isEqualTo(evening.id());
        assertThat(morning.id()).isEqualTo(evening.id());
    }

    @Test
    void site_powerOffDaysApart_isTwoCases() {
        Placement monday = place("ice-1", Condition.MACHINE_SILENT, NOON, Cause.POWER_OFF, 0.6);
        Placement tuesday = place("ice-2", Condition.MACHINE_SILENT, NOON.plus(days(1)), Cause.POWER_OFF, 0.6);

        assertThat(tuesday.id()).isNotEqualTo(monday.id());
    }

    @Test
    void room_hot_concernsThatRoomOnly() {
        Placement kitchen = place("ice-1", Condition.AMBIENT_OUT_OF_RANGE, NOON, Cause.ROOM_TOO_HOT, 0.9);
        Placement same = place("ice-3", Condition.HIGH_CONDENSING_TEMPERATURE, NOON, Cause.ROOM_TOO_HOT, 0.5);
        Placement bar = place("ice-2", Condition.AMBIENT_OUT_OF_RANGE, NOON, Cause.ROOM_TOO_HOT, 0.9);

        assertThat(same.id()).isEqualTo(kitchen.id());
        assertThat(bar.id()).isNotEqualTo(kitchen.id());
    }

    @Test
    void machineInTheCaseOfItsRoom_noCauseOfItsOwn_joinsThat() {
        Placement room = place("ice-1", Condition.AMBIENT_OUT_OF_RANGE, NOON, Cause.ROOM_TOO_HOT, 0.9);

        assertThat(place("ice-1", Condition.LONG_FREEZE, NOON, Cause.SCALE, 0.2).id())
                .isEqualTo(room.id());
    }

    @Test
    void causeTurnsOutToBeTheSites_movesOnceAndStays() {
        Member untold = member("ice-1", Condition.NOT_MAKING_ICE, NOON, Cause.SCALE, 0.2);
        Placement own = place(untold);
        Member told = member("ice-1", Condition.NOT_MAKING_ICE, NOON, Cause.WATER_SUPPLY_LOW, 0.6);

        Placement moved = rules.place(told, find(own), open);
        assertThat(moved.opens()).isTrue();
        OpenCase water = new OpenCase(moved.id(), moved.key(), moved.cause(), NOON, Set.of("ice-1"));
        assertThat(rules.place(untold, Optional.of(water), List.of(water)).id()).isEqualTo(moved.id());
    }

    @Test
    void call_joinsTheCaseOfItsMachineElseTheLatestOfItsSite() {
        Placement first = place("ice-1", Condition.LONG_FREEZE, NOON, Cause.SCALE, 0.6);
        Placement second = place("ice-2", Condition.DRAIN_PUMP_OVERRUN, NOON.plus(days(1)), Cause.DRAIN_BLOCKED, 0.6);

        assertThat(rules.placeCall(Optional.of("ice-1"), open).orElseThrow().id())
                .isEqualTo(first.id());
        assertThat(rules.placeCall(Optional.empty(), open).orElseThrow().id()).isEqualTo(second.id());
        assertThat(rules.placeCall(Optional.of("ice-9"), open)).isEmpty();
    }

    @Test
    void id_sameAlertAndKey_isTheSame() {
        Placement once = place("ice-1", Condition.LONG_FREEZE, NOON, Cause.SCALE, 0.6);
        open.clear();

        assertThat(place("ice-1", Condition.LONG_FREEZE, NOON, Cause.SCALE, 0.6))
                .isEqualTo(once);
    }

    @Test
    void book_causeInTwoEntries_isRefused() {
        String entry = """
                    scope: site
                    causes: [power-off]
                    conditions: []
                    within: 1h
                    one: x
                    several: y
                """;
        String yaml = "version: v\ntold_from: 0.4\nalso_from: 0.1\ncommon:\n  a:\n" + entry + "  b:\n" + entry;

        assertThatThrownBy(() -> CaseBook.parse("mine.yaml", yaml)).hasMessageContaining("power-off");
    }

    private static Duration days(int days) {
        return Duration.ofDays(days);
    }

    private Placement place(String machine, Condition condition, Instant at, Cause cause, double probability) {
        return place(member(machine, condition, at, cause, probability));
    }

    private Placement place(Member member) {
        Placement placement = rules.place(member, Optional.empty(), open);
        Set<String> machines =
                new java.util.HashSet<>(find(placement).map(OpenCase::machines).orElse(Set.of()));
        machines.addAll(member.machine().stream().toList());
        open.removeIf(known -> known.id().equals(placement.id()));
        open.add(new OpenCase(placement.id(), placement.key(), placement.cause(), member.raisedAt(), machines));
        return placement;
    }

    private Optional<OpenCase> find(Placement placement) {
        return open.stream().filter(known -> known.id().equals(placement.id())).findFirst();
    }

    /** Machines with an even number stand in the bar, the others in the kitchen. */
    static Member member(String machine, Condition condition, Instant at, Cause cause, double probability) {
        boolean even = machine.charAt(machine.length() - 1) % 2 == 0;
        return new Member(
                Finding.idOf(machine, condition, at),
                "north",
                Optional.of(machine),
                Optional.of("gw-1"),
                Optional.of(even ? "bar" : "kitchen"),
                condition,
                List.of(new ProbableCause(cause, probability, List.of(), List.of())),
                at);
    }
}
