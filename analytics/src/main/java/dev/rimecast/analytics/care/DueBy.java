package dev.rimecast.analytics.care;

import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * By what care is due: days, cycles, litres or drift, whichever comes first.
 *
 * @param atMillis since when
 * @param numbers of the policy that decide
 * @param why after the name of the care: what has passed
 */
record DueBy(long atMillis, List<PolicyNumber> numbers, String why) {
    private static final double DAY_MILLIS = 86_400_000;

    /** What is counted and looked at; days are judged by {@link CareWatch}, which knows since when they count. */
    static Optional<DueBy> use(CareTask task, CareUse use, long sinceMillis, long now, GroupPolicy policy) {
        String days = String.format(Locale.ROOT, "%.0f days after the last time", (now - sinceMillis) / DAY_MILLIS);
        Optional<DueBy> cycles = task.cycles()
                .filter(number -> use.cycles(task) >= policy.get(number))
                .map(number -> new DueBy(
                        now,
                        List.of(number),
                        String.format(Locale.ROOT, "%d cycles have been made, %s.", use.cycles(task), days)));
        Optional<DueBy> litres = task.litres()
                .filter(number -> use.litres(task) >= policy.get(number))
                .map(number -> new DueBy(
                        now,
                        List.of(number),
                        String.format(
                                Locale.ROOT, "%.0f litres of water have gone through, %s.", use.litres(task), days)));
        return cycles.or(() -> litres).or(() -> drift(task, use, now, days, policy));
    }

    private static Optional<DueBy> drift(CareTask task, CareUse use, long now, String days, GroupPolicy policy) {
        double drifted = use.driftMillis(task, now) / DAY_MILLIS;
        return task.drift()
                .filter(sign -> drifted >= policy.get(PolicyNumber.DRIFT_DAYS))
                .map(sign -> new DueBy(
                        now,
                        List.of(PolicyNumber.DRIFT_SHARE, PolicyNumber.DRIFT_DAYS),
                        String.format(Locale.ROOT, "for %.0f days %s, %s.", drifted, sign, days)));
    }
}
