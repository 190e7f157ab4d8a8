package dev.rimecast.alerts.priority;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.priority.Clocks.Ice;
import dev.rimecast.alerts.priority.PriorityBook.Decision;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** What a service manager would say: common practice of the trade. */
class PriorityBookTest {
    private final PriorityBook book = PriorityBook.standard();

    @Test
    void siteRunsOutWithinADay_isUrgentWhateverWasFound() {
        Decision decision = decide(Priority.LOW, Condition.LOW_OUTPUT, Ice.SHORT, Duration.ofHours(20));

        assertThat(decision.priority()).isEqualTo(Priority.URGENT);
        assertThat(decision.why()).isEqualTo("The site runs out of ice within a day.");
    }

    @Test
    void siteRunsOutInTwoDays_isHighButNeverLowered() {
        assertThat(decide(Priority.LOW, Condition.LOW_OUTPUT, Ice.SHORT, Duration.ofHours(50))
                        .priority())
                .isEqualTo(Priority.HIGH);
        assertThat(decide(Priority.URGENT, Condition.NOT_MAKING_ICE, Ice.SHORT, Duration.ofHours(50))
                        .priority())
                .isEqualTo(Priority.URGENT);
    }

    @Test
    void standsStillAndOthersMakeTooLittle_isHighHoweverFarTheHour() {
        Clocks inFiveDays = new Clocks(Ice.SHORT, Optional.of(NOON.plus(Duration.ofDays(5))), Optional.empty());

        assertThat(book.decide(Priority.MEDIUM, Stage.STOPPED, Condition.NOT_MAKING_ICE, inFiveDays, NOON)
                        .priority())
                .isEqualTo(Priority.HIGH);
        assertThat(book.decide(Priority.URGENT, Stage.STOPPED, Condition.NOT_MAKING_ICE, inFiveDays, NOON))
                .isEqualTo(kept(Priority.URGENT));
        assertThat(book.decide(Priority.MEDIUM, Stage.EARLY, Condition.LONG_FREEZE, inFiveDays, NOON))
                .as("it still makes ice")
                .isEqualTo(kept(Priority.MEDIUM));
    }

    @Test
    void othersMakeEnough_standstillIsLessUrgent_floodAndProtectionAreNot() {
        assertThat(stopped(Priority.URGENT, Condition.NOT_MAKING_ICE).priority())
                .isEqualTo(Priority.HIGH);
        assertThat(stopped(Priority.HIGH, Condition.NOT_MAKING_ICE).priority()).isEqualTo(Priority.MEDIUM);
        assertThat(stopped(Priority.URGENT, Condition.STOPPED_BY_PROTECTION)).isEqualTo(kept(Priority.URGENT));
        assertThat(stopped(Priority.HIGH, Condition.DRAIN_PUMP_OVERRUN)).isEqualTo(kept(Priority.HIGH));
    }

    @Test
    void notKnown_keepsWhatWasFound() {
        for (Priority found : Priority.values()) {
            Clocks clocks = new Clocks(Ice.NOT_KNOWN, Optional.empty(), Optional.empty());
            assertThat(book.decide(found, Stage.STOPPED, Condition.NOT_MAKING_ICE, clocks, NOON))
                    .isEqualTo(kept(found));
        }
    }

    @Test
    void care_isNeverTouched() {
        assertThat(decide(Priority.LOW, Condition.CLEANING_DUE, Ice.SHORT, Duration.ofHours(1)))
                .isEqualTo(kept(Priority.LOW));
    }

    @Test
    void clocks_earlierOne_counts() {
        Instant limit = NOON.plusSeconds(50);
        Instant ice = NOON.plusSeconds(40);

        assertThat(new Clocks(Ice.SHORT, Optional.of(ice), Optional.of(limit)).earlier())
                .contains(ice);
        assertThat(new Clocks(Ice.NOT_KNOWN, Optional.empty(), Optional.of(limit)).earlier())
                .contains(limit);
    }

    @Test
    void parse_everythingWrong_isToldAtOnce() {
        assertThatThrownBy(() -> PriorityBook.parse("mine.yaml", """
                        version: v
                        makes_less_ice: [no-ice]
                        rules:
                          - {words: x, when: {}, priority: high}
                          - {words: y, when: {ice: [some], within: soon}, priority: critical}
                        """))
                .hasMessageContaining("no-ice")
                .hasMessageContaining("hides those below")
                .hasMessageContaining("some")
                .hasMessageContaining("within")
                .hasMessageContaining("critical");
    }

    private Decision stopped(Priority found, Condition condition) {
        Clocks clocks = new Clocks(Ice.ENOUGH, Optional.empty(), Optional.empty());
        return book.decide(found, Stage.STOPPED, condition, clocks, NOON);
    }

    private Decision decide(Priority found, Condition condition, Ice ice, Duration left) {
        Clocks clocks = new Clocks(ice, Optional.of(NOON.plus(left)), Optional.empty());
        return book.decide(found, Stage.EARLY, condition, clocks, NOON);
    }

    private static Decision kept(Priority found) {
        return new Decision(found, "");
    }
}
