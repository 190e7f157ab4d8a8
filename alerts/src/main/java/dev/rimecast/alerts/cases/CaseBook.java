package dev.rimecast.alerts.cases;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.yaml.Range;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * {@code cases.yaml}: which alerts are one problem.
 *
 * @param toldFrom from this probability on the first cause is what a case is about
 * @param alsoFrom from this probability on another cause still speaks for belonging together
 */
public record CaseBook(String version, double toldFrom, double alsoFrom, List<CommonCause> common) {

    public CaseBook {
        common = List.copyOf(common);
    }

    /** The book that comes with the product. */
    public static CaseBook standard() {
        return parse("cases.yaml", Yaml.text(CaseBook.class, "cases.yaml"));
    }

    /**
     * @param source what problems call the text
     * @throws dev.rimecast.telemetry.yaml.YamlProblems with everything that is missing or wrong
     */
    public static CaseBook parse(String source, String yaml) {
        return Yaml.read(source, yaml, document -> {
            List<CommonCause> common = new ArrayList<>();
            Set<Cause> taken = EnumSet.noneOf(Cause.class);
            document.maps("common").forEach((name, entry) -> {
                CommonCause read = read(name, entry);
                for (Cause cause : read.causes()) {
                    if (!taken.add(cause)) {
                        entry.problem("causes", "has " + cause.code() + ", which an entry before it has: keep one");
                    }
                }
                common.add(read);
            });
            return new CaseBook(
                    document.string("version"),
                    document.number("told_from", Range.of(0.05, 1)),
                    document.number("also_from", Range.of(0.01, 1)),
                    common);
        });
    }

    private static CommonCause read(String name, YamlMap entry) {
        Set<Cause> causes = EnumSet.noneOf(Cause.class);
        causes.addAll(entry.list("causes", YamlType.oneOf(Cause.class, Cause::code)));
        Set<Condition> conditions = EnumSet.noneOf(Condition.class);
        conditions.addAll(entry.list("conditions", YamlType.oneOf(Condition.class, Condition::code)));
        return new CommonCause(
                name,
                entry.oneOf("scope", CommonCause.Scope.class, CommonCause.Scope::code),
                causes,
                conditions,
                entry.duration("within", Duration.ofMinutes(1), Duration.ofDays(30)),
                entry.string("one"),
                entry.string("several"));
    }

    public Optional<CommonCause> common(String name) {
        return common.stream().filter(entry -> entry.name().equals(name)).findFirst();
    }
}
