package dev.rimecast.analytics.score;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** Which condition fits which cause, and which causes count as one: the resource {@code fitting-conditions.yaml}. */
public final class FittingConditions {
    private static final String NAME = "fitting-conditions.yaml";

    private final Map<Cause, Line> lines;

    private record Line(Set<Condition> conditions, String group, boolean ofSite, boolean showsInCycles) {}

    private FittingConditions(Map<Cause, Line> lines) {
        this.lines = lines;
    }

    /** The table of this version. */
    public static FittingConditions standard() {
        try (InputStream in = FittingConditions.class.getResourceAsStream(NAME)) {
            if (in == null) {
                throw new IllegalStateException("the resource " + NAME + " is missing from the jar");
            }
            return parse(new String(in.readAllBytes(), StandardCharsets.UTF_8));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /**
     * Reads a table.
     *
     * @throws dev.rimecast.telemetry.yaml.YamlProblems if anything in it is wrong, or a cause has no line
     */
    static FittingConditions parse(String yaml) {
        return Yaml.read(NAME, yaml, FittingConditions::lines);
    }

    private static FittingConditions lines(YamlMap map) {
        Map<Cause, Line> lines = new EnumMap<>(Cause.class);
        for (String code : map.keys()) {
            YamlMap line = map.map(code);
            Optional<Cause> cause = Cause.ofCode(code);
            if (cause.isEmpty()) {
                map.problem(code, "is not a cause");
                continue;
            }
            Set<Condition> conditions = EnumSet.noneOf(Condition.class);
            conditions.addAll(line.list("conditions", YamlType.oneOf(Condition.class, Condition::code)));
            if (conditions.isEmpty()) {
                line.problem("conditions", "must name at least one condition");
            }
            lines.put(
                    cause.get(),
                    new Line(
                            conditions,
                            line.string("class", code),
                            line.bool("of_site", false),
                            line.bool("shows_in_cycles", false)));
        }
        for (Cause cause : Cause.values()) {
            if (!lines.containsKey(cause)) {
                map.problem(cause.code(), "has no line: say which conditions fit it");
            }
        }
        return new FittingConditions(lines);
    }

    private Line line(Cause cause) {
        Line line = lines.get(cause);
        if (line == null) {
            throw new IllegalStateException(cause.code() + " has no line");
        }
        return line;
    }

    /** Whether an alert with this condition is a hit where this cause is true. */
    public boolean fits(Condition condition, Cause cause) {
        return line(cause).conditions().contains(condition);
    }

    /** Whether the condition is said of a place or a link, not of a machine: it is right wherever the record shows it. */
    public static boolean isOfPlaceOrLink(Condition condition) {
        return AlertSorting.isOfPlaceOrLink(condition);
    }

    /** What causes that can't be told apart are called together; the cause's own code where it stands for itself. */
    public String group(Cause cause) {
        return line(cause).group();
    }

    /** Whether the two count as one. */
    public boolean isOne(Cause a, Cause b) {
        return group(a).equals(group(b));
    }

    /** Whether the cause is a whole room's or link's, so that its conditions are true of the machines beside, too. */
    public boolean isOfSite(Cause cause) {
        return line(cause).ofSite();
    }

    /** Whether a step of this cause shows in the cycles of the running machine. */
    public boolean showsInCycles(Cause cause) {
        return line(cause).showsInCycles();
    }
}
