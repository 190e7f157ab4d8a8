package dev.rimecast.history.backtest;

import dev.rimecast.telemetry.file.result.AlertRow;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * Where a machine's plots show what is meant.
 *
 * @param at when it was
 */
public record Look(String machine, Instant at) {
    private static final Duration SHOWN = Duration.ofDays(7);
    private static final Duration AFTER = Duration.ofDays(3);

    /**
     * Where a problem shows: when the first alert found it, or where that stood already, when it began; of one that was missed, when it was to be known.
     *
     * @param each the same problem, as each policy found it or did not
     * @return empty where neither it nor an alert names a machine
     */
    static Optional<Look> of(List<Judged.Problem> each) {
        Judged.Problem problem = each.get(0);
        Optional<AlertRow> first =
                each.stream().flatMap(one -> one.first().stream()).min(Comparator.comparing(AlertRow::raisedAt));
        Instant at = first.map(alert -> alert.raisedAt().isBefore(problem.from()) ? problem.from() : alert.raisedAt())
                .orElse(problem.deadline());
        return problem.machine().or(() -> first.flatMap(AlertRow::machine)).map(machine -> new Look(machine, at));
    }

    /** Path and query of the machine's page with its plots of the week that ends three days later, as the pages' own links have it. */
    public String path() {
        return "/machines/" + URLEncoder.encode(machine, StandardCharsets.UTF_8).replace("+", "%20") + "?hours="
                + SHOWN.toHours() + "&to=" + at.plus(AFTER).truncatedTo(ChronoUnit.MINUTES);
    }
}
