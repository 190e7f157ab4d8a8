package dev.rimecast.analytics.score;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import java.util.Comparator;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.stream.Collectors;

/** A score as a page for a person at a terminal. */
public final class ScoreText {
    private static final String ROW = "%-30s %6s %6s %6s  %11s  %6s %6s  %9s  %8s %8s  %7s %7s%n";

    private final StringBuilder page = new StringBuilder();

    private ScoreText() {}

    public static String of(Score score) {
        ScoreText text = new ScoreText();
        text.faults(score);
        text.steps(score.all());
        text.falseAlarms(score);
        text.causes(score);
        text.calibration(score.calibration());
        return text.page.toString();
    }

    private void line(String format, Object... values) {
        page.append(String.format(Locale.ROOT, format, values));
    }

    private void faults(Score score) {
        line("Faults found before their deadline, with a condition that fits the cause%n%n");
        line(
                ROW,
                "",
                "faults",
                "found",
                "share",
                "90 %",
                "lead",
                "lowest",
                "3 days",
                "steps'",
                "in time*",
                "cause",
                "first");
        line(ROW, "", "", "", "", "interval", "median", "tenth", "before", "delay h", "", "right", "three");
        score.byCause().forEach(this::group);
        group(score.all());
        line(
                "%nLead: share of the time from onset to deadline that was left, of those found. 3 days: of those that give more.%n");
        line("* within 3 cycles or 2 hours of running, of steps that show in the cycles of a running machine.%n");
        line("Cause: of those found; causes that can't be told apart count as one.%n");
    }

    private void group(FaultGroup g) {
        String interval = g.foundInterval()
                .map(i -> String.format(Locale.ROOT, "%.2f to %.2f", i.low(), i.high()))
                .orElse("");
        line(
                ROW,
                g.name(),
                g.faults(),
                g.found(),
                share(g.found(), g.faults()),
                interval,
                number("%.2f", g.leadMedian()),
                number("%.2f", g.leadTenth()),
                of(g.threeDays(), g.developing()),
                number("%.1f", g.delayHoursMedian()),
                of(g.prompt(), g.inCycles()),
                share(g.firstRight(), g.found()),
                share(g.firstThreeRight(), g.found()));
    }

    private void steps(FaultGroup all) {
        line("%n%-42s %s%n", "3 days before the deadline, developing:", percent(all.threeDays(), all.developing()));
        line("%-42s %s%n", "steps within 3 cycles or 2 hours:", percent(all.prompt(), all.inCycles()));
        line("%-42s %s%n", "most probable cause right:", percent(all.firstRight(), all.found()));
        line("%-42s %s%n", "among the first three:", percent(all.firstThreeRight(), all.found()));
        line("%-42s %s%n", "site or not, rightly said:", percent(all.sideRight(), all.found()));
    }

    private void falseAlarms(Score score) {
        FalseAlarms alarms = score.falseAlarms();
        line(
                "%nFalse alarms: %d in %.1f machine-years without a fault: %.2f a machine-year, at most %.2f (one-sided 90 %%)%n",
                alarms.alarms().size(), alarms.machineYears(), alarms.perMachineYear(), alarms.upperPerMachineYear());
        conditions(alarms.byCondition());
        int statements =
                score.statements().values().stream().mapToInt(Integer::intValue).sum();
        line("Not counted: %d true statements of place and link%n", statements);
        conditions(score.statements());
        line(
                "             %d that a fault of the room or link explains, %d of planned care, %d about machines without truth%n",
                score.consequences(), score.care(), score.unjudged());
        line(
                "On faulty machines after the onset, with a condition that does not fit: %d%n",
                score.besideTheFault().size());
        beside(score);
    }

    private void conditions(Map<Condition, Integer> counts) {
        counts.entrySet().stream()
                .sorted(Map.Entry.<Condition, Integer>comparingByValue(Comparator.reverseOrder())
                        .thenComparing(Map.Entry.comparingByKey()))
                .forEach(e -> line("  %5d  %s%n", e.getValue(), e.getKey().code()));
    }

    private void beside(Score score) {
        Map<Cause, Map<Condition, Long>> counts = score.besideTheFault().stream()
                .collect(Collectors.groupingBy(
                        Score.Beside::cause,
                        TreeMap::new,
                        Collectors.groupingBy(b -> b.alert().condition(), TreeMap::new, Collectors.counting())));
        counts.forEach((cause, conditions) -> line(
                "         %s: %s%n",
                cause.code(),
                conditions.entrySet().stream()
                        .map(e -> e.getValue() + " " + e.getKey().code())
                        .collect(Collectors.joining(", "))));
    }

    private void causes(Score score) {
        line("%nTaken for something else%n");
        score.confusions()
                .forEach(c -> line(
                        "  %5d  %s named %s%n",
                        c.count(), c.cause().code(), c.named().map(Cause::code).orElse("nothing")));
    }

    private void calibration(Calibration calibration) {
        line("%nProbability of the named cause: stated and right%n");
        for (Calibration.Bin bin : calibration.bins()) {
            line(
                    "  %3.0f to %3.0f %%  %4d diagnoses  stated %s  right %s%n",
                    100 * bin.from(),
                    100 * bin.to(),
                    bin.diagnoses(),
                    bin.diagnoses() == 0 ? "  -" : String.format(Locale.ROOT, "%3.0f %%", 100 * bin.stated()),
                    percent(bin.right(), bin.diagnoses()));
        }
        line("Brier score %s (0 is perfect, 0.25 is a coin)%n", number("%.3f", calibration.brier()));
    }

    private static String share(int count, int of) {
        return of == 0 ? "-" : String.format(Locale.ROOT, "%.2f", count / (double) of);
    }

    private static String of(int count, int of) {
        return of == 0 ? "-" : count + "/" + of;
    }

    private static String percent(int count, int of) {
        return of == 0 ? "-" : String.format(Locale.ROOT, "%.0f %% (%d of %d)", 100.0 * count / of, count, of);
    }

    private static String number(String format, OptionalDouble value) {
        return value.isEmpty() ? "-" : String.format(Locale.ROOT, format, value.getAsDouble());
    }
}
