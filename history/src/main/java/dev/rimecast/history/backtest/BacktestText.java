package dev.rimecast.history.backtest;

import dev.rimecast.analytics.statistics.WilsonInterval;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.finding.Cause;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;

/** A back-test as a page for a person at a terminal, one policy or two side by side. */
public final class BacktestText {
    private static final double HOURS_A_DAY = 24;

    private final List<String> names;
    private final List<Judged> judged;
    private final String pages;
    private final StringBuilder page = new StringBuilder();

    private BacktestText(List<String> names, List<Judged> judged, String pages) {
        this.names = names;
        this.judged = judged;
        this.pages = pages;
    }

    /**
     * Puts it together.
     *
     * @param names of the policies, in the order of {@code judged}
     * @param pages address of a server's pages, which stands before the path of each machine's plots; may be empty
     */
    public static String of(List<String> names, List<Judged> judged, SideBySide sides, Labels labels, String pages) {
        BacktestText text = new BacktestText(names, judged, pages);
        text.figures();
        text.page.append(SidesText.causes(sides, pages));
        if (judged.size() > 1) {
            text.differences();
        }
        text.wrong();
        text.page.append(SidesText.machines(sides, pages));
        text.labels(labels);
        return text.page.toString();
    }

    private void line(String format, Object... values) {
        page.append(String.format(Locale.ROOT, format, values));
    }

    private void row(String what, Function<Judged, String> figure) {
        line("%-52s", what);
        judged.forEach(each -> line("  %26s", figure.apply(each)));
        line("%n");
    }

    private void figures() {
        if (judged.size() > 1) {
            line("%-52s", "");
            names.forEach(name -> line("  %26s", name.length() > 26 ? name.substring(name.length() - 26) : name));
            line("%n");
        }
        row(
                "Problems known before their time (recall, 90 %)",
                j -> share(j.found(), j.problems().size(), j.recall()));
        row(
                "Alerts that were right (precision, 90 %)",
                j -> share(j.right().size(), j.right().size() + j.wrong().size(), j.precision()));
        row("Lead of those known, median (90 %)", BacktestText::medianLead);
        row("  a tenth has less than", j -> hours(j.leadHours(0.1)));
        row("Wrong alerts a sound machine-year (90 %)", BacktestText::falseRate);
        row("Visits the site can save by itself (90 %)", j -> count(j.avoided()));
        row("Visits planned, not at once: 3 days known (90 %)", j -> count(j.planned()));
        row("Visits wasted (90 %)", j -> count(j.wasted()));
        line("%n");
        row("Alerts: right, wrong", j -> j.right().size() + ", " + j.wrong().size());
        row(
                "  without a label (nobody knows), contradicting",
                j -> j.unlabelled().size() + ", " + j.contradicting().size());
        row("  of places and links, of planned care", j -> j.statements() + ", " + j.care());
        row(
                "  without a label a machine-year watched",
                j -> number(
                        j.watchedYears() > 0
                                ? OptionalDouble.of(j.unlabelled().size() / j.watchedYears())
                                : OptionalDouble.empty()));
    }

    /** Of few leads there is no interval, which is said. */
    private static String medianLead(Judged judged) {
        OptionalDouble median = judged.leadHours(0.5);
        if (median.isEmpty()) {
            return "-";
        }
        double unit = isOfDays(median.getAsDouble()) ? HOURS_A_DAY : 1;
        return hours(median)
                + judged.medianLeadInterval()
                        .map(ends -> String.format(Locale.ROOT, " (%.1f to %.1f)", ends[0] / unit, ends[1] / unit))
                        .orElse(" (too few for a range)");
    }

    private static String count(int count) {
        double[] ends = Judged.countInterval(count);
        return String.format(Locale.ROOT, "%d (%.1f to %.1f)", count, ends[0], ends[1]);
    }

    private static String falseRate(Judged judged) {
        if (judged.falseRate().isEmpty()) {
            return "no sound time is known";
        }
        double[] interval = judged.falseRateInterval();
        return String.format(
                Locale.ROOT, "%.2f (%.2f to %.2f)", judged.falseRate().getAsDouble(), interval[0], interval[1]);
    }

    /** What one policy found and the other did not, and on which machines they were wrong. */
    private void differences() {
        line("%nProblems that make the difference%n");
        int shown = 0;
        for (List<Judged.Problem> pair : SideBySide.problems(judged)) {
            if (!pair.get(0).lead().equals(pair.get(1).lead())) {
                Judged.Problem first = pair.get(0);
                line(
                        "%-52s  %26s  %26s  %s%n",
                        "  " + first.subject() + " "
                                + first.cause().map(Cause::code).orElse(first.isCall() ? "call" : "marked"),
                        lead(pair.get(0)),
                        lead(pair.get(1)),
                        plots(pair));
                shown++;
            }
        }
        if (shown == 0) {
            line("  none%n");
        }
    }

    /** Around the first alert that found it. */
    private String plots(List<Judged.Problem> pair) {
        return Look.of(pair).map(look -> pages + look.path()).orElse("-");
    }

    private static String lead(Judged.Problem problem) {
        return problem.lead()
                .map(lead -> hours(OptionalDouble.of(lead.toMinutes() / 60.0)) + " before")
                .orElse("missed");
    }

    private void wrong() {
        List<Map<String, Integer>> counts = judged.stream()
                .map(each -> {
                    Map<String, Integer> count = new HashMap<>();
                    for (AlertRow alert : each.wrong()) {
                        count.merge(
                                alert.machine().orElse("") + " "
                                        + alert.condition().code(),
                                1,
                                Integer::sum);
                    }
                    return count;
                })
                .toList();
        TreeSet<String> where = new TreeSet<>();
        counts.forEach(count -> where.addAll(count.keySet()));
        if (where.isEmpty()) {
            return;
        }
        line("%nWrong, by machine%n");
        for (String each : where) {
            line("%-52s", "  " + each);
            counts.forEach(count -> line("  %26d", count.getOrDefault(each, 0)));
            line("%n");
        }
    }

    private void labels(Labels labels) {
        Map<Label.Source, Integer> counts = new TreeMap<>();
        labels.all().forEach(label -> counts.merge(label.source(), 1, Integer::sum));
        line(
                "%nKnown from: %d marks, %d rows of truth, %d visits, %d calls%n",
                counts.getOrDefault(Label.Source.MARK, 0),
                counts.getOrDefault(Label.Source.TRUTH, 0),
                counts.getOrDefault(Label.Source.VISIT, 0),
                counts.getOrDefault(Label.Source.CALL, 0));
        if (!labels.unknown().isEmpty()) {
            line(
                    "Left out, since no register has the machine: %s%n",
                    String.join(", ", new TreeSet<>(labels.unknown())));
        }
        if (labels.later() > 0) {
            line("Left out, since they begin after their machines were heard last: %d marks%n", labels.later());
        }
    }

    private static String share(int count, int of, Optional<WilsonInterval> interval) {
        return interval.map(i -> String.format(Locale.ROOT, "%d of %d (%.2f to %.2f)", count, of, i.low(), i.high()))
                .orElse("none is known");
    }

    private static String hours(OptionalDouble hours) {
        if (hours.isEmpty()) {
            return "-";
        }
        double value = hours.getAsDouble();
        return isOfDays(value)
                ? String.format(Locale.ROOT, "%.1f days", value / HOURS_A_DAY)
                : String.format(Locale.ROOT, "%.1f h", value);
    }

    private static boolean isOfDays(double hours) {
        return hours >= 3 * HOURS_A_DAY;
    }

    private static String number(OptionalDouble value) {
        return value.isEmpty() ? "-" : String.format(Locale.ROOT, "%.2f", value.getAsDouble());
    }
}
