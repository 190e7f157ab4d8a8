package dev.rimecast.alerts.work;

import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Set;
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

    /** Reports that don't say which visit they are of: as far apart they are still of one. Common practice. */
    private static final Duration SAME_VISIT = Duration.ofHours(12);

    private static final String SETTLED = " Only work of at least 30 days ago counts: of newer work nobody knows yet.";

    /**
     * Of reports of work, and of what else happened.
     *
     * @param work finished from {@code from} on, oldest first, up to now: what came after a report decides about it
     * @param past of the same span
     * @param to where the time that is looked at ends
     */
    public static List<WorkFigure> of(List<StoredWork> work, Past past, Instant to, Instant now) {
        return Stream.concat(ofWork(work, past.mended(), to, now).stream(), PastFigures.of(past).stream())
                .toList();
    }

    static List<WorkFigure> ofWork(List<StoredWork> work, Set<UUID> mended, Instant to, Instant now) {
        List<StoredWork> looked =
                work.stream().filter(each -> each.report().at().isBefore(to)).toList();
        Predicate<StoredWork> settled = each -> !each.report().at().isAfter(now.minus(SETTLED_AFTER));
        return List.of(
                firstTimeFix(work, mended, to, settled),
                share(
                        "return-within-30-days",
                        "Of all reports of work, those after which work was reported of the same machine by another visit"
                                + " within 30 days. Reports of the same half day are of one visit." + SETTLED,
                        looked.stream().filter(settled).toList(),
                        each -> work.stream().anyMatch(later -> isReturn(each, later))),
                share(
                        "nothing-found",
                        "Of all reports of work, those in which nothing was found to be wrong.",
                        looked,
                        each -> each.report().found() instanceof Found.Nothing));
    }

    private static WorkFigure firstTimeFix(
            List<StoredWork> work, Set<UUID> mended, Instant to, Predicate<StoredWork> settled) {
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
                "Of all cases in which work was reported, those that one visit ended: something was found, the case is closed,"
                        + " the work is not known not to have held, and the same was not wrong with the same machine in a new"
                        + " case within 30 days. Reports of one visit, or of the same half day, count once." + SETTLED,
                (int) begun.stream()
                        .filter(reports ->
                                mended.contains(reports.get(0).report().caseId().orElseThrow()))
                        .filter(reports -> visits(reports) == 1)
                        .filter(reports -> reports.stream()
                                .anyMatch(each -> !(each.report().found() instanceof Found.Nothing)))
                        .count(),
                begun.size(),
                Unit.SHARE);
    }

    /** How often somebody was there. */
    private static int visits(List<StoredWork> reports) {
        List<WorkReport> inOrder = reports.stream()
                .map(StoredWork::report)
                .sorted(Comparator.comparing(WorkReport::at))
                .toList();
        int visits = 1;
        for (int i = 1; i < inOrder.size(); i++) {
            if (!isSameVisit(inOrder.get(i - 1), inOrder.get(i))) {
                visits++;
            }
        }
        return visits;
    }

    private static boolean isSameVisit(WorkReport before, WorkReport after) {
        return (before.visit().isPresent() && after.visit().isPresent())
                ? before.visit().equals(after.visit())
                : !after.at().isAfter(before.at().plus(SAME_VISIT));
    }

    private static boolean isReturn(StoredWork first, StoredWork later) {
        Instant at = first.report().at();
        return later.machine().equals(first.machine())
                && later.report().at().isAfter(at)
                && !isSameVisit(first.report(), later.report())
                && !later.report().at().isAfter(at.plus(SETTLED_AFTER));
    }

    private static WorkFigure share(
            String code, String definition, List<StoredWork> all, Predicate<StoredWork> counts) {
        return new WorkFigure(
                code, definition, (int) all.stream().filter(counts).count(), all.size(), Unit.SHARE);
    }
}
