package dev.rimecast.telemetry.yaml;

import java.util.List;
import java.util.stream.Collectors;

/** A document can't be used. Holds everything that is wrong with it, in the order of its lines. */
public final class YamlProblems extends RuntimeException {
    private static final long serialVersionUID = 1L;

    private final transient List<YamlProblem> problems;

    /** @param problems at least one */
    public YamlProblems(List<YamlProblem> problems) {
        super(problems.stream().map(YamlProblem::toString).collect(Collectors.joining("\n")));
        this.problems = List.copyOf(problems);
        if (problems.isEmpty()) {
            throw new IllegalArgumentException("a document without problems is not a problem");
        }
    }

    public List<YamlProblem> problems() {
        return problems;
    }
}
