package dev.rimecast.analytics.sensor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.expect.SiteWeather;
import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.finding.Subject;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyShelf;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import dev.rimecast.telemetry.machine.Machine.Kind;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** The evaporator of a flake machine hardly moves while it runs, nor does a condenser whose water a valve regulates [common practice]. */
class SteadyMachinesTest {
    private final List<Finding> findings = new ArrayList<>();

    private static Machine machine(Kind kind, Cooling cooling) {
        Machine m = Machine.basic("ice-1", "bar", "gw");
        return new Machine(
                m.id(),
                m.site(),
                m.gateway(),
                m.room(),
                m.modelGroup(),
                m.serial(),
                kind,
                cooling,
                m.ratedKgPerDay(),
                m.binKg(),
                m.refrigerant(),
                m.freezeEndsBy(),
                m.harvestEndsBy(),
                m.fillEndsBy(),
                m.evaporatorProbeAt(),
                m.limits(),
                m.drainKind(),
                m.startDelaySeconds(),
                m.place(),
                m.care(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                m.build());
    }

    /** Four hours in which one of both temperatures stands still while the other swings by 12 K each half an hour. */
    private List<String> hours(Machine machine, Channel still, double celsius, Channel swings, double around) {
        RuleContext context = new RuleContext(
                machine,
                new PolicyShelf(Policy.standard()),
                new SiteWeather(),
                new FindingBook(Subject.machine("bar", "ice-1")));
        context.out(findings::add);
        SensorCheck check = new SensorCheck();
        long now = 1_777_800_000_000L;
        for (int minute = 0; minute < 240; minute++) {
            now += 60_000;
            check.read(still, celsius + minute % 2 * 0.1, false, now, context);
            check.read(swings, around + 6 * Math.sin(minute * Math.PI / 15), false, now, context);
        }
        return findings.stream().map(Finding::summary).toList();
    }

    private List<String> plate(Kind kind) {
        return hours(
                machine(kind, Cooling.AIR), Channel.EVAPORATOR_TEMPERATURE, -7.9, Channel.CONDENSER_TEMPERATURE, 40);
    }

    private List<String> condenser(Cooling cooling) {
        return hours(
                machine(Kind.BATCH, cooling), Channel.CONDENSER_TEMPERATURE, 34.2, Channel.EVAPORATOR_TEMPERATURE, -10);
    }

    @Test
    void plateThatStandsStill_isASensorsOfABatchMachineAlone() {
        assertThat(plate(Kind.CONTINUOUS)).isEmpty();
        assertThat(plate(Kind.BATCH)).singleElement().asString().contains("-7.9 °C");
    }

    @Test
    void condenserThatStandsStill_isASensorsWhereNoValveHoldsIt() {
        assertThat(condenser(Cooling.WATER)).isEmpty();
        assertThat(condenser(Cooling.AIR)).singleElement().asString().contains("34.");
    }
}
