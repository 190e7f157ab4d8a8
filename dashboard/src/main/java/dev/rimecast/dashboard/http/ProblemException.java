package dev.rimecast.dashboard.http;

/** Ends a request with a problem. Carries no stack trace: it is an answer, not an accident. */
public final class ProblemException extends RuntimeException {
    private static final long serialVersionUID = 1L;
    private final transient Problem problem;

    ProblemException(Problem problem) {
        super(problem.detail(), null, false, false);
        this.problem = problem;
    }

    Problem problem() {
        return problem;
    }
}
