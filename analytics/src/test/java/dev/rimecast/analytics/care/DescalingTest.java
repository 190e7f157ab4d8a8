package dev.rimecast.analytics.care;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateVersion;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.log.EventKind;
import org.junit.jupiter.api.Test;

/** Descaling falls due beside cleaning, and only a cleaning that descaled ends it. */
class DescalingTest extends CareBench {
    @Test
    void descaling_wherePullDownsAndHarvestsDrift_isDue() {
        makes(0, 4, 20, 0, signs(false, false, true));

        assertThat(of(Condition.CLEANING_DUE)).singleElement().satisfies(finding -> {
            assertThat(finding.summary()).startsWith("Descaling is due").contains("as scale makes them");
            assertThat(finding.priority()).isEqualTo(Priority.LOW);
        });
        assertThat(of(Condition.AIR_FILTER_DUE)).isEmpty();
    }

    /** Every three to six months [common practice]: the policy says 182 days, or 9,000 cycles. */
    @Test
    void descaling_isOverOnlyByACleaningThatDescaled() {
        days(0, 150);
        care.happened(EventKind.CLEANED, "", START + 150 * DAY, context);
        days(150, 183);
        assertThat(of(Condition.CLEANING_DUE))
                .extracting(Finding::step)
                .containsExactly(Step.RAISED, Step.CLEARED, Step.RAISED);
        assertThat(last().summary()).startsWith("Descaling is due");
        assertThat(last().at().toEpochMilli()).isEqualTo(START + 182 * DAY);

        Finding first = last();
        care.happened(EventKind.CLEANED, "", START + 183 * DAY, context);
        days(183, 184);
        assertThat(last().id()).as("another alert: the first has ended").isNotEqualTo(first.id());
        assertThat(last().step()).isEqualTo(Step.RAISED);
        assertThat(last().summary()).startsWith("Descaling is due");

        care.happened(EventKind.CLEANED, "descaled", START + 185 * DAY, context);
        assertThat(last().step()).isEqualTo(Step.CLEARED);
        makes(185, 185 + 130, 60, 0, CareSigns.NONE);
        assertThat(last().summary()).startsWith("Cleaning is due");
        care.happened(EventKind.CLEANED, "", START + (185 + 131) * DAY, context);
        makes(185 + 131, 185 + 152, 60, 0, CareSigns.NONE);
        assertThat(last().step()).isEqualTo(Step.RAISED);
        assertThat(last().summary()).startsWith("Descaling is due: 9000 cycles have been made");
    }

    /** Whoever had cleaned was taken to have descaled, and what was counted for it was the cleaning's. */
    @Test
    void descaling_ofALayoutBefore_countsFromTheLastCleaning() {
        StateWriter out = new StateWriter();
        StateVersion.MACHINE.write(out);
        out.whole(START + 100 * DAY);
        for (int i = 1; i < 4; i++) {
            out.whole(Long.MIN_VALUE);
        }
        out.time(START);
        new Idleness().save(out);
        for (int i = 0; i < 4; i++) {
            out.whole(0).real32(0).time(Long.MIN_VALUE);
        }
        out.real32(0);
        byte[] before = out.toBytes();
        before[1] = 14;
        StateReader in = new StateReader(before);
        StateVersion.MACHINE.require(in);

        care = CareWatch.restore(in, true);
        days(183, 219);

        assertThat(of(Condition.CLEANING_DUE)).isEmpty();
    }

    @Test
    void descaling_savedAndRestored_goesOn() {
        cycles(0, 3);
        days(0, 100);
        StateWriter out = new StateWriter();
        StateVersion.MACHINE.write(out);
        care.save(out);
        byte[] now = out.toBytes();
        StateReader in = new StateReader(now);
        StateVersion.MACHINE.require(in);
        care = CareWatch.restore(in, true);
        days(100, 130);
        care.happened(EventKind.CLEANED, "", START + 131 * DAY, context);
        days(131, 183);

        assertThat(last().summary()).startsWith("Descaling is due");
        assertThat(of(Condition.WATER_FILTER_DUE)).hasSize(1);
    }
}
