package dev.rimecast.telemetry.json;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;

class ResultJsonTest {
    private static final Instant AT = Instant.parse("2026-05-04T00:00:12.010Z");

    private static Finding finding() {
        return new Finding(
                Finding.idOf("ice-0007", Condition.SLOW_PULL_DOWN, AT),
                3,
                Finding.Step.UPDATED,
                "harbour",
                Optional.of("ice-0007"),
                Optional.empty(),
                Condition.SLOW_PULL_DOWN,
                Stage.EARLY,
                Priority.MEDIUM,
                AT.plusSeconds(60),
                AT,
                List.of(new Finding.ProbableCause(
                        Cause.LOW_CHARGE, 0.62, List.of("the split is 3 K small"), List.of("harvest is as usual"))),
                Optional.of(
                        new Finding.Measure("pull-down", "s", 214.5, OptionalDouble.of(150), OptionalDouble.of(900))),
                Optional.of(new Finding.LimitExpected(AT.plusSeconds(900), AT.plusSeconds(600), AT.plusSeconds(1800))),
                "0 °C is reached after 214 s instead of 150 s",
                "1",
                "standard");
    }

    private static Cycle cycle() {
        return new Cycle(
                "ice-0007",
                AT,
                AT.plusSeconds(1500),
                OptionalDouble.of(150.25),
                OptionalDouble.of(1285),
                OptionalDouble.empty(),
                OptionalDouble.of(44.5),
                OptionalDouble.of(41.25),
                OptionalDouble.of(14.5),
                OptionalDouble.of(-17.25),
                OptionalDouble.of(25),
                "sensor",
                OptionalDouble.empty(),
                "",
                OptionalInt.of(3),
                OptionalDouble.of(2.5),
                OptionalDouble.empty(),
                false,
                List.of(new Cycle.Residual(Feature.FREEZE, 1285, 1210, 30)),
                "1",
                "standard");
    }

    @Test
    void finding_thereAndBack_isTheSame() {
        assertThat(FindingJson.decode(FindingJson.encode(finding()))).isEqualTo(finding());
    }

    @Test
    void cycle_thereAndBack_isTheSame() {
        assertThat(CycleJson.decode(CycleJson.encode(cycle()))).isEqualTo(cycle());
    }

    @Test
    void finding_fieldOfALaterVersion_isPassedOver() {
        String text = new String(FindingJson.encode(finding()), StandardCharsets.UTF_8);
        String later = text.substring(0, text.length() - 1) + ",\"later\":{\"a\":[1,2]}}";

        assertThat(FindingJson.decode(later.getBytes(StandardCharsets.UTF_8))).isEqualTo(finding());
    }

    @Test
    void finding_cutShort_isRefused() {
        String text = new String(FindingJson.encode(finding()), StandardCharsets.UTF_8);
        byte[] cut = text.substring(0, text.length() / 2).getBytes(StandardCharsets.UTF_8);

        assertThatThrownBy(() -> FindingJson.decode(cut)).isInstanceOf(IllegalArgumentException.class);
    }
}
