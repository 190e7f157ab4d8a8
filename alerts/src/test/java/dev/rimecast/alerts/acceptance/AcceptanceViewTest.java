package dev.rimecast.alerts.acceptance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.telemetry.cycle.Acceptance;
import dev.rimecast.telemetry.cycle.Acceptance.Probes;
import dev.rimecast.telemetry.cycle.Acceptance.Reason;
import dev.rimecast.telemetry.cycle.Acceptance.Shown;
import dev.rimecast.telemetry.cycle.Acceptance.Verdict;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Condition;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

/** Machines of one group that the policy knows only roughly: a freeze should take 1,200 s in these conditions. */
class AcceptanceViewTest {
    private static final Instant AT = Instant.parse("2026-05-04T06:00:00Z");

    private static Acceptance freeze(double seconds, Probes probes, Condition... wrong) {
        return new Acceptance(
                Reason.FIRST_SEEN,
                AT.minusSeconds(20_000),
                12,
                wrong.length == 0 ? Verdict.NOT_YET_KNOWN : Verdict.NOT_ACCEPTED,
                probes,
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                List.of(new Shown(Feature.FREEZE, seconds, 1200, 540, 2670, 10, Verdict.NOT_YET_KNOWN)),
                Optional.empty(),
                List.of(wrong),
                true,
                "");
    }

    private static AcceptanceView beside(double seconds, double... others) {
        return AcceptanceView.of(
                "bar",
                "ice-1",
                AT,
                freeze(seconds, Probes.TOLD_APART),
                Arrays.stream(others)
                        .mapToObj(other -> freeze(other, Probes.TOLD_APART))
                        .toList());
    }

    @Test
    void band_ofFourOthers_isThatOfTheMedianAbsoluteDeviation() {
        // R 4: x <- c(0, 0.2, -0.2, 0.5); median(x) is 0.1, mad(x) is 0.29652
        AcceptanceView view = beside(1200, at(0), at(0.2), at(-0.2), at(0.5));

        assertThat(view.kin()).singleElement().satisfies(kin -> {
            assertThat(kin.others()).isEqualTo(4);
            assertThat(Math.log(kin.low() / 1200)).isCloseTo(0.1 - 2 * 0.29652, within(1e-9));
            assertThat(Math.log(kin.high() / 1200)).isCloseTo(0.1 + 2 * 0.29652, within(1e-9));
        });
    }

    private static double at(double log) {
        return 1200 * Math.exp(log);
    }

    @Test
    void machine_asItsThreeKin_isAccepted() {
        assertThat(beside(1290, 1220, 1250, 1280).verdict()).isEqualTo(Verdict.ACCEPTED);
    }

    @Test
    void machine_fortyPercentSlowerThanItsKin_isNotAccepted() {
        assertThat(beside(1750, 1220, 1250, 1280).verdict()).isEqualTo(Verdict.NOT_ACCEPTED);
    }

    @Test
    void machine_withTwoKinOnly_isNotYetKnown() {
        AcceptanceView view = beside(1750, 1220, 1250);

        assertThat(view.kin()).isEmpty();
        assertThat(view.verdict()).isEqualTo(Verdict.NOT_YET_KNOWN);
    }

    @Test
    void kin_withSomethingOpen_isNoMeasure() {
        List<Acceptance> others = List.of(
                freeze(1220, Probes.TOLD_APART),
                freeze(1250, Probes.TOLD_APART),
                freeze(1900, Probes.TOLD_APART, Condition.WATER_OUT_OF_RANGE));

        AcceptanceView view = AcceptanceView.of("bar", "ice-1", AT, freeze(1230, Probes.TOLD_APART), others);

        assertThat(view.kin()).isEmpty();
    }

    @Test
    void machine_whoseProbesNoHarvestHasToldApart_isNotYetKnown() {
        List<Acceptance> others = List.of(
                freeze(1220, Probes.TOLD_APART), freeze(1250, Probes.TOLD_APART), freeze(1210, Probes.TOLD_APART));

        AcceptanceView view = AcceptanceView.of("bar", "ice-1", AT, freeze(1230, Probes.NOT_YET_KNOWN), others);

        assertThat(view.verdict()).isEqualTo(Verdict.NOT_YET_KNOWN);
    }

    @Test
    void machine_withSomethingOpen_isNotAcceptedThoughItsFiguresAreGood() {
        List<Acceptance> others = List.of(
                freeze(1220, Probes.TOLD_APART), freeze(1250, Probes.TOLD_APART), freeze(1210, Probes.TOLD_APART));

        AcceptanceView view = AcceptanceView.of(
                "bar", "ice-1", AT, freeze(1230, Probes.TOLD_APART, Condition.AMBIENT_OUT_OF_RANGE), others);

        assertThat(view.verdict()).isEqualTo(Verdict.NOT_ACCEPTED);
    }
}
