package dev.rimecast.analytics.score;

import dev.rimecast.telemetry.file.result.NamedCause;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Cause.Origin;
import java.util.List;
import java.util.Optional;

/** A diagnosis held against the true cause; causes that can't be told apart count as one. */
final class Named {
    private static final int FIRST_FEW = 3;

    private Named() {}

    static boolean isRight(FaultResult fault, FittingConditions fitting) {
        return first(fault).filter(cause -> fitting.isOne(cause, fault.cause())).isPresent();
    }

    /** Whether the true cause is among the first three that are not one with each other. */
    static boolean isAmongFirst(FaultResult fault, FittingConditions fitting) {
        return groups(fault.named(), fitting).stream()
                .limit(FIRST_FEW)
                .anyMatch(group -> group.equals(fitting.group(fault.cause())));
    }

    private static List<String> groups(List<NamedCause> named, FittingConditions fitting) {
        return named.stream().map(n -> fitting.group(n.cause())).distinct().toList();
    }

    /** Whether it was rightly said that the site can look first, or that it can't. */
    static boolean isSideRight(FaultResult fault, FittingConditions fitting) {
        return first(fault)
                .filter(cause -> fitting.isOne(cause, fault.cause()) || isOfSite(cause) == isOfSite(fault.cause()))
                .isPresent();
    }

    private static boolean isOfSite(Cause cause) {
        return cause.origin() == Origin.SITE;
    }

    /** What was said first. */
    static Optional<Cause> first(FaultResult fault) {
        return fault.named().stream().map(NamedCause::cause).findFirst();
    }

    /** How probable the first named cause was called, with those that count as one with it. */
    static double stated(FaultResult fault, FittingConditions fitting) {
        Cause first = first(fault).orElseThrow();
        double sum = fault.named().stream()
                .filter(n -> fitting.isOne(n.cause(), first))
                .mapToDouble(NamedCause::probability)
                .sum();
        return Math.min(1, sum);
    }
}
