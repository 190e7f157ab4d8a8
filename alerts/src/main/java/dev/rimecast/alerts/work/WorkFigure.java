package dev.rimecast.alerts.work;

import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * How well work does: so many of so many.
 *
 * @param code of the API
 * @param definition what is counted, in words that stand beside the figure
 * @param count of those that are so
 * @param of all that could be
 * @param unit what is counted
 */
public record WorkFigure(String code, String definition, int count, int of, Unit unit) {
    /** What a figure counts. */
    public enum Unit {
        /** Things, of which the share is what matters. */
        SHARE,
        HOURS
    }

    /** How long a machine has to stay well before its work counts as settled. */
    public static final Duration SETTLED_AFTER = Duration.ofDays(30);

    private static final String SETTLED = " Only work of at least 30 days ago counts: of newer work nobody knows yet.";

    /**
     * Of reports of work, and of what else happened.
     *
     * @param work finished from {@code from} on, oldest first, up to now: what came after a report decides about it
     * @param past of the same span
     * @param to where the time that is looked at ends
     */
    public static List<WorkFigure> of(List<StoredWork> work, Past past, Instant to, Instant now) {
        return Stream.concat(ofWork(work, to, now).stream(), PastFigures.of(past).stream())
                .toList();
    }

    static List<WorkFigure> ofWork(List<StoredWork> work, Instant to, Instant now) {
        List<StoredWork> looked =
                work.stream().filter(each -> each.report().at().isBefore(to)).toList();
        Predicate<StoredWork> settled = each -> !each.report().at().isAfter(now.minus(SETTLED_AFTER));
        return List.of(
                firstTimeFix(work, to, settled),
                share(
                        "return-within-30-days",
                        "Of all reports of work, those after which work was reported of the same machine again within 30"
                                + " days." + SETTLED,
                        looked.stream().filter(settled).toList(),
                        each -> work.stream().anyMatch(later -> isReturn(each, later))),
                share(
                        "nothing-found",
                        "Of all reports of work, those in which nothing was found to be wrong.",
                        looked,
                        each -> each.report().found() instanceof Found.Nothing));
    }

    private static WorkFigure firstTimeFix(List<StoredWork> work, Instant to, Predicate<StoredWork> settled) {
        Map<UUID, List<StoredWork>> cases = work.stream()
                .filter(each -> each.report().caseId().isPresent())
                .collect(Collectors.groupingBy(each -> each.report().caseId().orElseThrow()));
        List<List<StoredWork>> begun = cases.values().stream()
                .filter(reports -> {
                    StoredWork first = reports.stream()
                            .min(Comparator.comparing(each -> each.report().at()))
                            .orElseThrow();
                    return first.report().at().isBefore(to) && settled.test(first);
                })
                .toList();
        return new WorkFigure(
                "first-time-fix",
                "Of all cases in which work was reported, those that needed one report of work only." + SETTLED,
                (int) begun.stream().filter(reports -> reports.size() == 1).count(),
                begun.size(),
                Unit.SHARE);
    }

    private static boolean isReturn(StoredWork first, StoredWork later) {
        Instant at = first.report().at();
        return later.machine().equals(first.machine())
                && later.report().at().isAfter(at)
                && !later.report().at().isAfter(at.plus(SETTLED_AFTER));
    }

    private static WorkFigure share(
            String code, String definition, List<StoredWork> all, Predicate<StoredWork> counts) {
        return new WorkFigure(
                code, definition, (int) all.stream().filter(counts).count(), all.size(), Unit.SHARE);
    }
}
