package dev.rimecast.telemetry.file.result;

import dev.rimecast.telemetry.file.csv.Decimals;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.util.List;
import java.util.stream.Collectors;

/** A diagnosis as cells; all empty where there is none. */
record CauseCells(String cause, String probability, String others, String origin) {

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

    private static String probability(ProbableCause cause) {
        return Decimals.fixed(cause.probability(), Rounding.PROBABILITY);
    }
}
