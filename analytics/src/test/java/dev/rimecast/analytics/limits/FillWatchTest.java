package dev.rimecast.analytics.limits;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.expect.SiteWeather;
import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.finding.Subject;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyShelf;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** A fill that goes on for ten minutes while the drain works, and what comes before and after it. */
class FillWatchTest {
    private final List<Finding> findings = new ArrayList<>();
    private final RuleContext context = new RuleContext(
            Machine.basic("ice-1", "bar", "gw"),
            new PolicyShelf(Policy.standard()),
            new SiteWeather(),
            new FindingBook(Subject.machine("bar", "ice-1")));
    private final FillWatch watch = new FillWatch();
    private long now = 1_777_800_000_000L;

    @BeforeEach
    void hasMadeIce() {
        context.out(findings::add);
        watch.completed();
    }

    private void minutes(int minutes, Phase phase, double plateCelsius) {
        for (int i = 0; i < minutes; i++) {
            now += 60_000;
            read(Channel.PHASE, phase.ordinal(), phase);
            read(Channel.EVAPORATOR_TEMPERATURE, plateCelsius, phase);
            if (phase == Phase.FILL) {
                read(Channel.DRAIN_LEVEL, 1, phase);
                read(Channel.DRAIN_LEVEL, 0, phase);
            }
        }
    }

    private void read(Channel channel, double value, Phase phase) {
        watch.read(channel, value, now, Optional.of(phase), context);
    }

    private Cause cause() {
        return watch.causes(now).get(0).cause();
    }

    @Test
    void waterThatRunsAway_isTooMuchWater() {
        minutes(10, Phase.FILL, 5);
        assertThat(findings).extracting(Finding::condition).containsExactly(Condition.WATER_USE_HIGH);
        assertThat(cause()).isEqualTo(Cause.DUMP_VALVE_LEAKING);
    }

    /** It freezes once without water, defrosts and waits before it fills again. */
    @Test
    void fillWithinThreeHoursAfterACleaning_isThePlug() {
        minutes(30, Phase.CLEAN, 20);
        minutes(30, Phase.FREEZE, -20);
        minutes(140, Phase.WAIT, 5);
        minutes(10, Phase.FILL, 5);
        assertThat(cause()).isEqualTo(Cause.SUMP_PLUG_OFF);
    }

    @Test
    void fillFourHoursAfterACleaning_isTheValve() {
        minutes(30, Phase.CLEAN, 20);
        minutes(240, Phase.WAIT, 5);
        minutes(10, Phase.FILL, 5);
        assertThat(cause()).isEqualTo(Cause.DUMP_VALVE_LEAKING);
    }

    @Test
    void freezeThatHadItsWater_endsWhatTheFillExplains() {
        minutes(10, Phase.FILL, 5);
        minutes(10, Phase.FREEZE, -20);
        assertThat(watch.causes(now)).isEmpty();
    }

    /** A plate under water is never as cold as this [common practice]. */
    @Test
    void freezeOfADryPlate_hadNone() {
        minutes(10, Phase.FILL, 5);
        minutes(3, Phase.FREEZE, -20);
        minutes(20, Phase.FREEZE, -31);
        assertThat(cause()).isEqualTo(Cause.DUMP_VALVE_LEAKING);
    }

    @Test
    void whatAFillExplains_isOverAfterThreeHours() {
        minutes(10, Phase.FILL, 5);
        minutes(179, Phase.STOPPED, 5);
        assertThat(cause()).isEqualTo(Cause.DUMP_VALVE_LEAKING);
        minutes(2, Phase.STOPPED, 5);
        assertThat(watch.causes(now)).isEmpty();
    }
}
