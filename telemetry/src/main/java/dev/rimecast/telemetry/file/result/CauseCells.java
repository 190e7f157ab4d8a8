package dev.rimecast.telemetry.file.result;

import dev.rimecast.telemetry.file.csv.CsvRow;
import dev.rimecast.telemetry.file.csv.Decimals;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.yaml.Range;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;

/** A diagnosis as cells; all empty where there is none. */
record CauseCells(String cause, String probability, String others, String origin) {
    private static final Range SHARE = Range.of(0, 1);

    static CauseCells of(List<ProbableCause> causes) {
        if (causes.isEmpty()) {
            return new CauseCells("", "", "", "");
        }
        ProbableCause first = causes.get(0);
        return new CauseCells(
                first.cause().code(),
                probability(first),
                causes.stream()
                        .skip(1)
                        .map(other -> other.cause().code() + ':' + probability(other))
                        .collect(Collectors.joining(";")),
                first.cause().origin().code());
    }

    /** Reads the cells of columns with these names back. */
    static List<NamedCause> read(CsvRow row, String causeColumn, String probabilityColumn, String othersColumn) {
        List<NamedCause> causes = new ArrayList<>();
        Optional<Cause> first = row.word(causeColumn, Cause.class, Cause::code);
        OptionalDouble probability = row.number(probabilityColumn, SHARE);
        if (first.isPresent()) {
            causes.add(new NamedCause(first.get(), probability.orElse(0)));
        }
        for (String other : row.text(othersColumn).orElse("").split(";", -1)) {
            if (other.isEmpty()) {
                continue;
            }
            int colon = other.indexOf(':');
            Optional<Cause> cause = Cause.ofCode(other.substring(0, Math.max(0, colon)));
            OptionalDouble its = Decimals.parse(other.substring(colon + 1));
            if (cause.isEmpty() || its.isEmpty() || !SHARE.contains(its.getAsDouble())) {
                row.problem(
                        othersColumn,
                        "must be causes with probabilities such as scale:0.2;fan-weak:0.1, found '" + other + "'");
                return causes;
            }
            causes.add(new NamedCause(cause.get(), its.getAsDouble()));
        }
        return causes;
    }

    private static String probability(ProbableCause cause) {
        return Decimals.fixed(cause.probability(), Rounding.PROBABILITY);
    }
}
