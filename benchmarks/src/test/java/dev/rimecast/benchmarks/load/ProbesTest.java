package dev.rimecast.benchmarks.load;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

class ProbesTest {
    private static final Instant START = Instant.parse("2026-03-01T00:00:00Z");
    private static final String MACHINE = Clone.FIRST + "-ma";

    /** Takes findings. */
    private static final class Found implements SiteMonitor.Output {
        private final List<Finding> findings = new ArrayList<>();

        @Override
        public void cycle(Cycle cycle) {
            // of no interest
        }

        @Override
        public void finding(Finding finding) {
            findings.add(finding);
        }

        @Override
        public void proof(Proof proof) {
            // of no interest
        }
    }

    /** A probe that the monitor does not judge would measure something else: how long until another pack of the machine. */
    @Test
    void probe_isJudgedWithItsOwnPack() {
        SiteMonitor monitor = SiteMonitor.fresh(Clone.FIRST, Policy.standard());
        Found found = new Found();
        monitor.accept(new SiteRecord.Registered(START, Machine.basic(MACHINE, Clone.FIRST, Clone.gateway(0))), found);
        long at = START.plusSeconds(3600).toEpochMilli();
        monitor.accept(
                LearnedSite.record(new LearnedSite.Pack(
                        at, List.of(Reading.number(MACHINE, Channel.CONDENSER_TEMPERATURE, at, 40)))),
                found);
        assertThat(found.findings).isEmpty();

        monitor.accept(LearnedSite.record(MqttLoad.hot(MACHINE, at)), found);

        assertThat(found.findings).singleElement().satisfies(finding -> {
            assertThat(finding.condition()).isEqualTo(Condition.HIGH_CONDENSING_TEMPERATURE);
            assertThat(finding.step()).isEqualTo(Finding.Step.RAISED);
            assertThat(finding.machine()).contains(MACHINE);
        });
    }

    @Test
    void whatBecameOfProbes_isCounted_fromTheTimeThatIsMeasured() {
        Probes probes = new Probes();
        probes.sent("a", 0);
        probes.clear();
        probes.sent("b", 1_000_000);
        probes.sent("c", 1_000_000);

        assertThat(probes.alert("a", 5_000_000)).isFalse();
        assertThat(probes.alert("b", 5_000_000)).isTrue();
        assertThat(probes.areAllAlerts()).isFalse();
        assertThat(probes.tell(new Measure(0, 0, Map.of())).more())
                .containsEntry("probes", 2.0)
                .containsEntry("without an alert", 1.0)
                .containsEntry("median ms", 4.0)
                .containsEntry("99 % within ms", 4.0);
    }

    @Test
    void times_ofALoadThatTheMachineCannotTake_areSaidToBeAQueues() {
        OptionalDouble soon = OptionalDouble.of(0.5);

        assertThat(Probes.doubt(6_250, 6_240, 800, 1_900, soon)).isEmpty();
        assertThat(Probes.doubt(6_250, 6_240, 800, 90_000, soon))
                .get()
                .asString()
                .contains("6,250 packs/s", "90,000 after", "those of a queue");
        assertThat(Probes.doubt(6_250, 6_240, 90_000, 800, soon)).isPresent();
        assertThat(Probes.doubt(6_250, 3_000, 0, 0, soon)).isPresent();
        assertThat(Probes.doubt(6_250, 6_240, 0, 50_000, OptionalDouble.empty()))
                .get()
                .asString()
                .contains("50,000 packs behind", "did not catch up");
    }
}
