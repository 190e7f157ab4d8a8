package dev.rimecast.alerts.priority;

import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.time.Duration;
import java.time.Instant;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.IntStream;

/** {@code priority.yaml}: the rules from the top, and what they decide. */
public final class PriorityBook {
    /** More would hide one another, and asking all of them for every case that there can be would take long. */
    private static final int MOST_RULES = 100;

    private final String version;
    private final Set<Condition> makesLessIce;
    private final List<Rule> rules;

    private PriorityBook(String version, Set<Condition> makesLessIce, List<Rule> rules) {
        this.version = version;
        this.makesLessIce = Set.copyOf(makesLessIce);
        this.rules = List.copyOf(rules);
    }

    /**
     * One rule. An empty set, or no duration, asks nothing.
     *
     * @param words said with the alert
     * @param found detection's own priority is one of these
     * @param within the earlier clock has no more left than this
     * @param priority what it decides
     */
    public record Rule(
            String words,
            Set<Priority> found,
            Set<Stage> stages,
            Set<Condition> conditions,
            Set<Clocks.Ice> ice,
            Optional<Duration> within,
            Priority priority) {

        /** @param left until the earlier clock; empty where no clock has a date */
        boolean fits(Priority own, Stage stage, Condition condition, Clocks.Ice iceClock, Optional<Duration> left) {
            return asks(found, own)
                    && asks(stages, stage)
                    && asks(conditions, condition)
                    && asks(ice, iceClock)
                    && (within.isEmpty()
                            || left.filter(time -> time.compareTo(within.get()) <= 0)
                                    .isPresent());
        }

        private static <T> boolean asks(Set<T> wanted, T is) {
            return wanted.isEmpty() || wanted.contains(is);
        }
    }

    /**
     * What was decided.
     *
     * @param why the rule's words; empty where detection's own priority stands
     */
    public record Decision(Priority priority, String why) {}

    /** The book that comes with the product. */
    public static PriorityBook standard() {
        return parse("priority.yaml", Yaml.text(PriorityBook.class, "priority.yaml"));
    }

    /**
     * @param source what problems call the text
     * @throws dev.rimecast.telemetry.yaml.YamlProblems with everything that is missing or wrong
     */
    public static PriorityBook parse(String source, String yaml) {
        return Yaml.read(source, yaml, document -> {
            List<YamlMap> entries = document.mapList("rules");
            List<Rule> rules = entries.stream().map(PriorityBook::rule).toList();
            PriorityBook book = new PriorityBook(
                    document.string("version"),
                    set(document, "makes_less_ice", Condition.class, Condition::code),
                    rules);
            if (rules.size() > MOST_RULES) {
                document.problem("rules", "has " + rules.size() + " rules: leave at most " + MOST_RULES);
            } else {
                refuseIdle(book, entries);
            }
            return book;
        });
    }

    private static void refuseIdle(PriorityBook book, List<YamlMap> entries) {
        Set<Integer> used = PriorityTable.used(book);
        for (int i = 0; i < entries.size(); i++) {
            if (!used.contains(i)) {
                entries.get(i)
                        .problem("never decides: rules above it always fit first, or no alert can be so;"
                                + " move it up, change its \"when\", or delete it");
            }
        }
    }

    private static Rule rule(YamlMap rule) {
        YamlMap when = rule.map("when");
        if (when.keys().isEmpty()) {
            rule.problem("when", "is empty: a rule that always fits hides those below it");
        }
        return new Rule(
                rule.string("words"),
                set(when, "found", Priority.class, Priority::code),
                set(when, "stage", Stage.class, Stage::code),
                set(when, "conditions", Condition.class, Condition::code),
                set(when, "ice", Clocks.Ice.class, Clocks.Ice::code),
                when.has("within")
                        ? Optional.of(when.duration("within", Duration.ofMinutes(1), Duration.ofDays(90)))
                        : Optional.empty(),
                rule.oneOf("priority", Priority.class, Priority::code));
    }

    private static <E extends Enum<E>> Set<E> set(YamlMap map, String key, Class<E> type, Function<E, String> word) {
        Set<E> values = EnumSet.noneOf(type);
        values.addAll(map.list(key, YamlType.oneOf(type, word)));
        return values;
    }

    public String version() {
        return version;
    }

    /** Whether the ice clock of its site counts for an alert. */
    public boolean makesLessIce(Condition condition) {
        return makesLessIce.contains(condition);
    }

    /** In the order in which they are asked. */
    public List<Rule> rules() {
        return rules;
    }

    /** @param found detection's own priority */
    public Decision decide(Priority found, Stage stage, Condition condition, Clocks clocks, Instant now) {
        Optional<Duration> left = clocks.earlier().map(at -> Duration.between(now, at));
        OptionalInt fitting = ruleFor(found, stage, condition, clocks.ice(), left);
        if (fitting.isEmpty()) {
            return new Decision(found, "");
        }
        Rule rule = rules.get(fitting.getAsInt());
        return new Decision(rule.priority(), rule.priority() == found ? "" : rule.words());
    }

    /** The first rule that fits, from 0; empty where detection's own priority stands, as it always does for care. */
    OptionalInt ruleFor(Priority found, Stage stage, Condition condition, Clocks.Ice ice, Optional<Duration> left) {
        return condition.isCare()
                ? OptionalInt.empty()
                : IntStream.range(0, rules.size())
                        .filter(i -> rules.get(i).fits(found, stage, condition, ice, left))
                        .findFirst();
    }
}
