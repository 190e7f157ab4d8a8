package dev.rimecast.analytics.score;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.util.EnumSet;
import org.junit.jupiter.api.Test;

class FittingConditionsTest {
    private final FittingConditions standard = FittingConditions.standard();

    @Test
    void everyCause_hasAConditionThatFits_andNoneIsPlannedCare() {
        for (Cause cause : Cause.values()) {
            EnumSet<Condition> fitting = EnumSet.noneOf(Condition.class);
            for (Condition condition : Condition.values()) {
                if (standard.fits(condition, cause)) {
                    fitting.add(condition);
                }
            }
            assertThat(fitting).as(cause.code()).isNotEmpty().noneMatch(Condition::isCare);
        }
    }

    /** The classes that can't be told apart are those of the goal that detection is held to, no more. */
    @Test
    void classes_areTheFourThatCannotBeToldApart() {
        assertThat(standard.isOne(Cause.LOW_CHARGE, Cause.COMPRESSOR_WEAK)).isTrue();
        assertThat(standard.isOne(Cause.LOW_CHARGE, Cause.REFRIGERANT_RESTRICTION))
                .isTrue();
        assertThat(standard.isOne(Cause.DRAIN_BLOCKED, Cause.DRAIN_PUMP_FAILED)).isTrue();
        assertThat(standard.isOne(Cause.AIRFLOW_RESTRICTED, Cause.FAN_WEAK)).isTrue();
        assertThat(standard.isOne(Cause.CURTAIN_MISPLACED, Cause.WATER_LOSS)).isTrue();
        assertThat(EnumSet.allOf(Cause.class).stream()
                        .map(standard::group)
                        .distinct()
                        .filter(group -> Cause.ofCode(group).isEmpty() || group.equals("water-loss")))
                .containsExactlyInAnyOrder("airflow", "capacity", "drain", "water-loss");
    }

    @Test
    void table_thatLacksACause_isRefusedWithItsName() {
        assertThatThrownBy(() -> FittingConditions.parse("scale:\n  conditions: [long-harvest]\n"))
                .isInstanceOf(YamlProblems.class)
                .hasMessageContaining("fan-failed")
                .hasMessageContaining("has no line");
    }

    @Test
    void table_withAnUnknownCondition_isRefused() {
        assertThatThrownBy(() -> FittingConditions.parse("scale:\n  conditions: [hot]\n"))
                .isInstanceOf(YamlProblems.class)
                .hasMessageContaining("scale");
    }
}
