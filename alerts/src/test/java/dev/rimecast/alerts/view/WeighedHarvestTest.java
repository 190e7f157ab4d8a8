package dev.rimecast.alerts.view;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.HarvestWeight;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class WeighedHarvestTest {
    private static final Instant START = Instant.parse("2026-05-04T00:00:00Z");

    private static Cycle cycle(OptionalDouble ambient, OptionalDouble water) {
        OptionalDouble none = OptionalDouble.empty();
        return new Cycle(
                "ice-1",
                START,
                START.plusSeconds(1_440),
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                ambient,
                "sensor",
                water,
                "sensor",
                OptionalInt.empty(),
                none,
                none,
                true,
                List.of(),
                "",
                "",
                Optional.empty());
    }

    /** 60 cycles of 24 min are a day; at the rating conditions of AHRI 810 (from memory) the rating itself is allowed. */
    @Test
    void rate_atTheRatingConditions_isTheDaysIceAgainstTheRating() {
        WeighedHarvest harvest = WeighedHarvest.of(
                START.plusSeconds(1_500),
                0.75,
                "Bar",
                50,
                Optional.of(cycle(OptionalDouble.of(32.2), OptionalDouble.of(21.1))));

        assertThat(harvest.rate()).hasValueSatisfying(rate -> {
            assertThat(rate.kgPerDay()).isCloseTo(45, within(1e-9));
            assertThat(rate.allowedKgPerDay()).isCloseTo(50, within(1e-9));
            assertThat(rate.isEnough()).isTrue();
        });
    }

    @Test
    void rate_ofTheSameIceInACoolRoom_isTooLittle() {
        WeighedHarvest harvest = WeighedHarvest.of(
                START, 0.75, "", 50, Optional.of(cycle(OptionalDouble.of(21), OptionalDouble.of(10))));

        assertThat(harvest.rate().orElseThrow().isEnough()).isFalse();
    }

    @Test
    void rate_withoutACycleOrItsPlace_isNotKnown() {
        assertThat(WeighedHarvest.of(START, 0.75, "", 50, Optional.empty()).rate())
                .isEmpty();
        assertThat(WeighedHarvest.of(
                                START, 0.75, "", 50, Optional.of(cycle(OptionalDouble.of(21), OptionalDouble.empty())))
                        .rate())
                .isEmpty();
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "1,25", "0", "0.001", "51", "-1", "1.25 kg", "1e1", "NaN", " 1"})
    void weight_thatIsNone_isRefusedWithWhatItShouldBe(String detail) {
        assertThat(HarvestWeight.kilograms(detail)).isEmpty();
        assertThat(EventKind.HARVEST_WEIGHED.wrongDetail(detail))
                .hasValueSatisfying(wrong -> assertThat(wrong).contains("in kg").contains("'" + detail + "'"));
    }

    @Test
    void weight_ofAHarvest_isTaken() {
        assertThat(HarvestWeight.kilograms("1.25")).hasValue(1.25);
        assertThat(EventKind.HARVEST_WEIGHED.wrongDetail("50")).isEmpty();
        assertThat(EventKind.HARVEST_WEIGHED.wrongWithoutMachine()).isPresent();
        assertThat(EventKind.CALL.wrongWithoutMachine()).isEmpty();
    }
}
