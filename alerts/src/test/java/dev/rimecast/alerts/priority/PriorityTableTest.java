package dev.rimecast.alerts.priority;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.priority.Clocks.Ice;
import dev.rimecast.alerts.priority.PriorityTable.Change;
import dev.rimecast.alerts.priority.PriorityTable.Group;
import dev.rimecast.alerts.priority.PriorityTable.Row;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

class PriorityTableTest {
    private static final Instant NOON = Instant.parse("2026-05-04T12:00:00Z");
    private final PriorityBook book = PriorityBook.standard();
    private final PriorityTable table = PriorityTable.of(book);

    @Test
    void standard_columnsAreTheTimesOfItsRules() {
        assertThat(table.within()).containsExactly(Duration.ofDays(1), Duration.ofDays(3));
    }

    @Test
    void standard_everyConditionButCare_isInOneGroup() {
        List<Condition> all = table.groups().stream()
                .flatMap(group -> group.conditions().stream())
                .toList();

        assertThat(all).doesNotHaveDuplicates();
        assertThat(all)
                .containsExactlyInAnyOrderElementsOf(Stream.of(Condition.values())
                        .filter(condition -> !condition.isCare())
                        .toList());
        assertThat(group(Condition.WATER_OUT_OF_RANGE).rows()).isEmpty();
        assertThat(group(Condition.NOT_MAKING_ICE).conditions()).contains(Condition.CLEANING_TOO_LONG);
    }

    @Test
    void standard_shortOfIceWithinADay_isUrgentWhateverWasFound() {
        Row row = row(Condition.LONG_FREEZE, Ice.SHORT, Stage.EARLY);

        assertThat(row.cells().get(0).changes())
                .containsExactly(new Change(List.of(Priority.HIGH, Priority.MEDIUM, Priority.LOW), Priority.URGENT, 0));
        assertThat(row.cells().get(1).changes())
                .containsExactly(new Change(List.of(Priority.MEDIUM, Priority.LOW), Priority.HIGH, 1));
        assertThat(row.cells().get(2).changes()).isEmpty();
    }

    /** The table is what the book decides: asked again for each cell, at the end of its column. */
    @Test
    void cells_any_sayWhatTheBookDecides() {
        List<Optional<Duration>> columns = new ArrayList<>();
        table.within().forEach(left -> columns.add(Optional.of(left)));
        columns.add(Optional.empty());
        int asked = 0;
        for (Group group : table.groups()) {
            for (Condition condition : group.conditions()) {
                for (Row row : group.rows()) {
                    for (Stage stage : row.stages()) {
                        for (int column = 0; column < columns.size(); column++) {
                            Clocks clocks =
                                    new Clocks(row.ice(), columns.get(column).map(NOON::plus), Optional.empty());
                            for (Priority found : Priority.values()) {
                                Priority told = row.cells().get(column).changes().stream()
                                        .filter(change -> change.found().contains(found))
                                        .map(Change::priority)
                                        .findFirst()
                                        .orElse(found);
                                assertThat(book.decide(found, stage, condition, clocks, NOON)
                                                .priority())
                                        .isEqualTo(told);
                                asked++;
                            }
                        }
                    }
                }
            }
        }
        assertThat(asked).isGreaterThan(500);
    }

    @Test
    void parse_ruleThatNeverDecides_isToldWithItsLine() {
        assertThatThrownBy(() -> PriorityBook.parse("mine.yaml", """
                        version: v
                        makes_less_ice: [long-freeze]
                        rules:
                          - {words: a, when: {ice: [short]}, priority: urgent}
                          - {words: b, when: {ice: [short], within: 1d}, priority: high}
                        """))
                .hasMessageContaining("mine.yaml:5: rules[1]: never decides");
    }

    /** Each rule of its own time is a column of the table: without a bound a long book would keep a server busy. */
    @Test
    void parse_moreRulesThanAnybodyOverlooks_isToldAndNotAsked() {
        String rules = IntStream.rangeClosed(1, 101)
                .mapToObj(i -> "  - {words: a, when: {ice: [short], within: " + i + "m}, priority: low}\n")
                .collect(Collectors.joining());
        String head = "version: v\nmakes_less_ice: [long-freeze]\nrules:\n";

        assertThatThrownBy(() -> PriorityBook.parse("mine.yaml", head + rules))
                .hasMessage("mine.yaml:3: rules: has 101 rules: leave at most 100");
        assertThat(PriorityBook.parse("mine.yaml", head + rules.substring(0, rules.lastIndexOf("  - ")))
                        .rules())
                .hasSize(100);
    }

    @Test
    void parse_ruleOfIceForWhatMakesNoLessIce_isToldToDecideNever() {
        assertThatThrownBy(() -> PriorityBook.parse("mine.yaml", """
                        version: v
                        makes_less_ice: [long-freeze]
                        rules:
                          - {words: a, when: {ice: [short], conditions: [slow-fill]}, priority: urgent}
                        """)).hasMessageContaining("rules[0]: never decides");
    }

    private Group group(Condition condition) {
        return table.groups().stream()
                .filter(group -> group.conditions().contains(condition))
                .findFirst()
                .orElseThrow();
    }

    private Row row(Condition condition, Ice ice, Stage stage) {
        return group(condition).rows().stream()
                .filter(row -> row.ice() == ice && row.stages().contains(stage))
                .findFirst()
                .orElseThrow();
    }
}
