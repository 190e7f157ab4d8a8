package dev.rimecast.telemetry.file.csv;

import java.util.List;
import java.util.stream.Collectors;

/** A file can't be used. Holds everything that is wrong with it, in the order of its lines. */
public final class InputProblems extends RuntimeException {
    private static final long serialVersionUID = 1;

    private final transient List<InputProblem> problems;

    /** @param problems at least one */
    public InputProblems(List<InputProblem> problems) {
        super(problems.stream().map(InputProblem::toString).collect(Collectors.joining("\n")));
        if (problems.isEmpty()) {
            throw new IllegalArgumentException("a file without problems is not a problem");
        }
        this.problems = List.copyOf(problems);
    }

    public InputProblems(InputProblem problem) {
        this(List.of(problem));
    }

    public List<InputProblem> problems() {
        return problems;
    }
}
