package dev.rimecast.analytics.finding;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/**
 * What comes and goes is one alert: the usual remedy for repeating alarms is an off-delay (ISA-18.2 / IEC 62682, from memory;
 * the lengths are common practice).
 */
class ReturnsTest {
    private static final long HOUR = 3_600_000;
    private static final long START = Instant.parse("2026-06-01T12:00:00Z").toEpochMilli();
    private static final Condition HOT = Condition.HIGH_CONDENSING_TEMPERATURE;

    private GroupPolicy policy = Policy.parse(
                    "version: three-days\nall:\n  delays:\n    comes_again_minutes: 4320\n    quiet_minutes: 2160\n")
            .forGroup(Optional.empty());
    private final List<Finding> told = new ArrayList<>();
    private final FindingBook book = new FindingBook(Subject.machine("site", "machine"));

    @Test
    void conditionOfEachAfternoon_isTwoAlertsAndEndsWhenItStaysAway() {
        for (int day = 0; day < 20; day++) {
            afternoon(HOT, Stage.AT_LIMIT, day);
            nightAfter(day);
        }
        assertThat(steps()).startsWith("RAISED", "CLEARED", "RAISED").hasSize(21);
        assertThat(steps().subList(3, 21)).containsOnly("UPDATED");
        assertThat(book.isOpen(HOT)).isFalse();
        assertThat(book.isAnyOpen(List.of(HOT))).isTrue();

        nightAfter(21);

        assertThat(steps()).endsWith("CLEARED");
        assertThat(told.get(told.size() - 1).summary()).contains("not come back for 36 hours");
        assertThat(book.isEmpty()).isTrue();
    }

    @Test
    void conditionThatComesOnceAWeek_isAnAlertEachTime() {
        for (int week = 0; week < 4; week++) {
            afternoon(HOT, Stage.AT_LIMIT, 7 * week);
        }
        assertThat(steps())
                .containsExactly("RAISED", "CLEARED", "RAISED", "CLEARED", "RAISED", "CLEARED", "RAISED", "CLEARED");
    }

    /** Each stop takes ice from its site, and whoever has seen the last one has not seen this. */
    @Test
    void stopThatComesBack_isAnAlertEachTime() {
        for (Condition stop : List.of(Condition.STOPPED_BY_PROTECTION, Condition.NOT_MAKING_ICE)) {
            told.clear();
            for (int day = 0; day < 3; day++) {
                afternoon(stop, Stage.STOPPED, day);
            }
            assertThat(steps()).containsExactly("RAISED", "CLEARED", "RAISED", "CLEARED", "RAISED", "CLEARED");
        }
    }

    /** What passes by itself does not rest, but that it has come back is known, so that it is not over so soon again. */
    @Test
    void changeThatComesBack_isAnAlertEachTime_andIsKnownToHaveComeBack() {
        Condition change = Condition.LONG_FREEZE;
        afternoon(change, Stage.EARLY, 0);
        assertThat(book.hasComeBack(change)).isFalse();
        afternoon(change, Stage.EARLY, 1);
        assertThat(book.hasComeBack(change)).isTrue();
        assertThat(steps()).containsExactly("RAISED", "CLEARED", "RAISED", "CLEARED");

        book.passed(START + 5 * 24 * HOUR, condition -> policy, told::add);
        afternoon(change, Stage.EARLY, 9);

        assertThat(book.hasComeBack(change)).isFalse();
    }

    /** Earlier versions had stops rest, too: one that is back is told, and not taken for one that stays away. */
    @Test
    void stopThatRestedInAnEarlierVersion_isAStopLikeAnyOther() {
        StateWriter out = new StateWriter();
        out.u8(2);
        for (Condition each : List.of(Condition.STOPPED_BY_PROTECTION, HOT)) {
            out.u8(each.ordinal()).whole(3).time(START).time(Long.MIN_VALUE).time(START + HOUR);
        }
        Returns read = Returns.restore(new StateReader(out.toBytes()));

        assertThat(read.isResting(Condition.STOPPED_BY_PROTECTION)).isFalse();
        assertThat(read.isResting(HOT)).isTrue();
    }

    @Test
    void badHarvestsAllDay_areTwoAlertsOfWhichTheSecondCounts() {
        Condition bad = Condition.INCOMPLETE_HARVEST;
        for (int hour = 0; hour < 10; hour++) {
            Assessment now =
                    Assessment.of(Stage.AT_LIMIT, Priority.HIGH, "Ice has stayed.", PolicyNumber.SHORT_PULL_DOWN_SHARE);
            book.report(bad, START + hour * HOUR, now, "1", policy, told::add);
            book.clear(bad, START + hour * HOUR + HOUR / 2, "A good one.", told::add);
        }
        assertThat(steps()).startsWith("RAISED", "CLEARED", "RAISED").hasSize(11);
        assertThat(told.get(10).summary()).contains("It has come 10 times since 2026-06-01.");
    }

    @Test
    void workWhileItRests_endsItAndWhatComesThenIsNew() {
        afternoon(HOT, Stage.AT_LIMIT, 0);
        afternoon(HOT, Stage.AT_LIMIT, 1);
        book.worked(START + 40 * HOUR, told::add);
        assertThat(steps()).containsExactly("RAISED", "CLEARED", "RAISED", "CLEARED");

        afternoon(HOT, Stage.AT_LIMIT, 2);

        assertThat(steps()).containsExactly("RAISED", "CLEARED", "RAISED", "CLEARED", "RAISED", "CLEARED");
    }

    /** A late reading is no return either, and nothing of it is kept. */
    @Test
    void withTheNumberAtZero_eachTimeIsAnAlertOfItsOwn() {
        policy = Policy.parse("version: each\nall: {delays: {comes_again_minutes: 0}}\n")
                .forGroup(Optional.empty());
        int before = bytes();
        afternoon(HOT, Stage.AT_LIMIT, 1);
        afternoon(HOT, Stage.AT_LIMIT, 0);
        afternoon(HOT, Stage.AT_LIMIT, 1);
        assertThat(steps()).containsExactly("RAISED", "CLEARED", "RAISED", "CLEARED", "RAISED", "CLEARED");
        assertThat(bytes()).isEqualTo(before);
    }

    /** What is asked first says just when a report would say anything. */
    @Test
    void isNews_isWhatAReportWouldTell() {
        tells(true, Stage.EARLY, Priority.LOW, "first");
        tells(false, Stage.EARLY, Priority.LOW, "in other words");
        tells(true, Stage.EARLY, Priority.HIGH, "urgent");
        tells(true, Stage.AT_LIMIT, Priority.HIGH, "at its limit");
        tells(false, Stage.AT_LIMIT, Priority.HIGH, "still");
        book.clear(HOT, START + HOUR, "over", told::add);
        tells(true, Stage.AT_LIMIT, Priority.HIGH, "again");
        book.clear(HOT, START + 2 * HOUR, "it rests", told::add);
        assertThat(book.isOpen(HOT)).as("it may come back").isFalse();
        tells(true, Stage.AT_LIMIT, Priority.HIGH, "it is back");
    }

    private void tells(boolean isNews, Stage stage, Priority priority, String words) {
        Assessment said = Assessment.of(stage, priority, words, PolicyNumber.CONDENSING_LIMIT_CELSIUS);
        int before = told.size();
        boolean asked = book.isNews(HOT, START, said, policy);
        book.report(HOT, START, said, "three-days", policy, told::add);
        assertThat(asked).as(words).isEqualTo(isNews).isEqualTo(told.size() > before);
    }

    private int bytes() {
        StateWriter out = new StateWriter();
        book.save(out);
        return out.toBytes().length;
    }

    @Test
    void driftThatIsOver_isOver() {
        afternoon(Condition.LONG_FREEZE, Stage.EARLY, 0);
        afternoon(Condition.LONG_FREEZE, Stage.EARLY, 1);
        assertThat(steps()).containsExactly("RAISED", "CLEARED", "RAISED", "CLEARED");
    }

    @Test
    void steps_neverSkipARevisionAndNeverOverlap() {
        afternoon(HOT, Stage.AT_LIMIT, 0);
        for (int day = 1; day < 9; day++) {
            afternoon(HOT, day % 3 == 0 ? Stage.STOPPED : Stage.AT_LIMIT, day);
            nightAfter(day);
        }
        nightAfter(12);
        for (int i = 1; i < told.size(); i++) {
            Finding before = told.get(i - 1);
            Finding next = told.get(i);
            boolean isNew = before.step() == Step.CLEARED;
            assertThat(next.step() == Step.RAISED).isEqualTo(isNew);
            assertThat(next.revision()).isEqualTo(isNew ? 1 : before.revision() + 1);
            assertThat(next.id().equals(before.id())).isEqualTo(!isNew);
        }
        assertThat(told.get(told.size() - 1).step()).isEqualTo(Step.CLEARED);
    }

    private List<String> steps() {
        return told.stream().map(f -> f.step().name()).toList();
    }

    /** It comes at noon of a day and would be over at six. */
    private void afternoon(Condition condition, Stage stage, int day) {
        long noon = START + day * 24 * HOUR;
        Assessment now = Assessment.of(
                stage,
                Priority.HIGH,
                "It is 56 °C; the machine stops at 55 °C.",
                PolicyNumber.CONDENSING_LIMIT_CELSIUS);
        book.report(condition, noon, now, "1", policy, told::add);
        book.clear(condition, noon + 6 * HOUR, "It is below.", told::add);
    }

    private void nightAfter(int day) {
        book.passed(START + day * 24 * HOUR + 12 * HOUR, condition -> policy, told::add);
    }
}
