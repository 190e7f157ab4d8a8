package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.priority.Clocks;
import dev.rimecast.alerts.priority.PriorityBook;
import dev.rimecast.alerts.priority.PriorityTable;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Duration;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/**
 * What a priority book decides: its rules, and the table of consequence and time left that follows from them.
 *
 * @param withinSeconds upper ends of the columns of the table; one more column is for all that is later or has no date
 */
public record PriorityJson(List<RuleJson> rules, List<Long> withinSeconds, List<GroupJson> groups) {

    /** One rule; an empty list asks nothing. */
    public record RuleJson(
            String words,
            List<String> found,
            List<String> stages,
            List<String> conditions,
            List<String> ice,
            Optional<Long> withinSeconds,
            String priority) {
        static RuleJson of(PriorityBook.Rule rule) {
            return new RuleJson(
                    rule.words(),
                    codes(rule.found(), Priority::code),
                    codes(rule.stages(), Stage::code),
                    codes(rule.conditions(), Condition::code),
                    codes(rule.ice(), Clocks.Ice::code),
                    rule.within().map(Duration::toSeconds),
                    rule.priority().code());
        }
    }

    /** Conditions that are treated alike; without rows detection's own priority always stands. */
    public record GroupJson(List<String> conditions, boolean countsIce, List<RowJson> rows) {}

    public record RowJson(String ice, List<String> stages, List<List<ChangeJson>> cells) {}

    /** @param rule the rule that decides, from 1 */
    public record ChangeJson(List<String> found, String priority, int rule) {}

    static PriorityJson of(PriorityBook book) {
        PriorityTable table = PriorityTable.of(book);
        return new PriorityJson(
                book.rules().stream().map(RuleJson::of).toList(),
                table.within().stream().map(Duration::toSeconds).toList(),
                table.groups().stream().map(PriorityJson::group).toList());
    }

    private static GroupJson group(PriorityTable.Group group) {
        return new GroupJson(
                codes(group.conditions(), Condition::code),
                group.countsIce(),
                group.rows().stream().map(PriorityJson::row).toList());
    }

    private static RowJson row(PriorityTable.Row row) {
        return new RowJson(
                row.ice().code(),
                row.stages().stream().map(Stage::code).toList(),
                row.cells().stream()
                        .map(cell -> cell.changes().stream()
                                .map(change -> new ChangeJson(
                                        codes(change.found(), Priority::code),
                                        change.priority().code(),
                                        change.rule() + 1))
                                .toList())
                        .toList());
    }

    /** In the order of the constants. */
    private static <E extends Enum<E>> List<String> codes(Collection<E> values, Function<E, String> code) {
        return values.stream().sorted().map(code).toList();
    }
}
