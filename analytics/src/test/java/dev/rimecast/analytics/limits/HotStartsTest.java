package dev.rimecast.analytics.limits;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.expect.SiteWeather;
import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.finding.Subject;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyShelf;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.machine.Machine;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A machine of which only the condenser is known, read once a minute; its limit is the policy's, 65 °C. */
class HotStartsTest {
    private static final List<ProbableCause> CAUSES =
            List.of(new ProbableCause(Cause.FAN_FAILED, 0.8, List.of("It gets hot."), List.of()));
    /** Up to near the limit within minutes, cut off there, and cold again as fast. */
    private static final double[] HOT_START = {30, 42, 53, 59, 50, 42, 36, 32, 30};

    private final List<Finding> findings = new ArrayList<>();
    private final RuleContext context = context();
    private HotStarts starts = new HotStarts();
    private long now = 1_777_800_000_000L;

    private RuleContext context() {
        RuleContext made = new RuleContext(
                Machine.basic("ice-1", "bar", "gw"),
                new PolicyShelf(Policy.standard()),
                new SiteWeather(),
                new FindingBook(Subject.machine("bar", "ice-1")));
        made.out(findings::add);
        return made;
    }

    private boolean reads(double... celsius) {
        boolean isSaid = false;
        for (double each : celsius) {
            now += 60_000;
            isSaid |= starts.condenser(each, now, context, () -> CAUSES);
        }
        return isSaid;
    }

    private void rests(int minutes) {
        for (int i = 0; i < minutes; i++) {
            reads(30);
        }
    }

    @Test
    void twoHotStarts_areAMachineThatStopsAtItsLimit_withTheCausesOfItsHeat() {
        assertThat(reads(HOT_START)).isFalse();
        rests(30);
        assertThat(reads(HOT_START)).isTrue();

        assertThat(findings).hasSize(1);
        Finding found = findings.get(0);
        assertThat(found.condition()).isEqualTo(Condition.STOPPED_BY_PROTECTION);
        assertThat(found.summary()).contains("59 °C", "limit of 65 °C");
        assertThat(found.causes()).isEqualTo(CAUSES);

        rests(30);
        assertThat(reads(HOT_START)).as("said already").isFalse();
        assertThat(findings).hasSize(1);
    }

    /** Its fan stands: it tries again at 48 °C, ten minutes later, and is at its limit after 13 K. */
    @Test
    void triesAgainWhileItIsHot_count() {
        assertThat(reads(30, 42, 53, 62, 57, 54, 52, 50, 49, 48)).isFalse();
        assertThat(reads(53, 58, 61.5, 57, 54)).isTrue();
        assertThat(findings).hasSize(1);
    }

    /** A rise of so little is none by itself: a fan that cycles, or a hot pan. */
    @Test
    void smallRisesWithoutAStartFromCold_areNone() {
        for (int i = 0; i < 5; i++) {
            assertThat(reads(48, 53, 58, 61.5, 57, 54, 50)).isFalse();
        }
        assertThat(findings).isEmpty();
    }

    /** At rest a condenser follows its room, and its sensor has noise: a rise begins where that ends. */
    @ParameterizedTest
    @ValueSource(ints = {50, 51, 52, 53, 54, 55, 56, 57, 58, 59, 60, 61, 62})
    void startsOutOfALongRest_countFromWhereTheyRise(int restMinutes) {
        for (int i = 0; i < 2; i++) {
            assertThat(findings).isEmpty();
            for (int minute = 0; minute < restMinutes; minute++) {
                reads(28 + minute * 0.01);
            }
            reads(36, 48, 59, 50, 42, 36, 32, 29, 26);
        }
        assertThat(findings).hasSize(1);
    }

    /** A room that warms the condenser by some kelvin in the time. */
    @Test
    void startsOutOfARestInARoomThatWarms_countToo() {
        for (int i = 0; i < 2; i++) {
            for (int minute = 0; minute < 60; minute++) {
                reads(24 + minute * 0.1);
            }
            reads(36, 48, 59, 50, 42, 36, 32, 29, 23);
        }
        assertThat(findings).hasSize(1);
    }

    @Test
    void oneBehindAnotherByMoreThanFourHours_isNone() {
        reads(HOT_START);
        rests(5 * 60);
        reads(HOT_START);
        assertThat(findings).isEmpty();
    }

    @Test
    void cycleInBetween_beginsAnew() {
        for (int i = 0; i < 5; i++) {
            reads(HOT_START);
            starts.completed();
            rests(10);
        }
        assertThat(findings).isEmpty();
    }

    /** It is warmest after some minutes, and falls with the load until the harvest. */
    @Test
    void freezesOnAHotDay_areNone() {
        for (int freeze = 0; freeze < 4; freeze++) {
            reads(40, 48, 54, 58, 60);
            for (int minute = 0; minute < 20; minute++) {
                reads(60 - 0.6 * minute);
            }
            reads(44, 41, 40);
        }
        assertThat(findings).isEmpty();
    }

    /** Head pressure control lets the fan come and go: some kelvin up and down, near the limit or not. */
    @Test
    void fanThatComesAndGoes_isNone() {
        reads(40, 45, 50, 54);
        for (int i = 0; i < 30; i++) {
            reads(48, 44, 49, 54);
        }
        assertThat(findings).isEmpty();
    }

    @Test
    void peaksFarBelowTheLimit_areNone() {
        for (int i = 0; i < 6; i++) {
            reads(25, 38, 47, 52, 44, 36, 28);
            rests(10);
        }
        assertThat(findings).isEmpty();
    }

    @Test
    void climbOfMoreThanTenMinutes_isNoStart() {
        for (int i = 0; i < 4; i++) {
            for (double celsius = 30; celsius < 59; celsius += 2) {
                reads(celsius);
            }
            reads(50, 42, 36, 30);
        }
        assertThat(findings).isEmpty();
    }

    @Test
    void riseBehindAGap_isNone() {
        for (int i = 0; i < 4; i++) {
            reads(30, 31);
            now += 11 * 60_000L;
            reads(59, 50, 42, 36, 30);
        }
        assertThat(findings).isEmpty();
    }

    @Test
    void savedAndRestoredWithEveryReading_saysTheSame() {
        for (int i = 0; i < 2; i++) {
            for (double celsius : HOT_START) {
                reads(celsius);
                StateWriter out = new StateWriter();
                starts.save(out);
                starts = HotStarts.restore(new StateReader(out.toBytes()));
            }
            assertThat(findings).hasSize(i);
            rests(20);
        }
    }
}
