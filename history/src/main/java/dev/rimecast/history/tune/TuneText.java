package dev.rimecast.history.tune;

import dev.rimecast.analytics.policy.PolicyGuide;
import dev.rimecast.history.backtest.Judged;
import java.time.ZoneOffset;
import java.util.Locale;
import java.util.OptionalDouble;

/** The report of a sweep: what was tried, what would have come of it, what is proposed, and what is unsure. */
public final class TuneText {
    private static final int FEW = 20;
    private static final int AS_IT_IS = 8;
    private static final double HOURS_A_DAY = 24;

    private final StringBuilder page = new StringBuilder();

    private TuneText() {}

    public static String of(Tuning tuning, Costs costs, double years) {
        TuneText text = new TuneText();
        text.table(tuning, costs);
        text.proposal(tuning);
        text.doubts(tuning, years);
        return text.page.toString();
    }

    private void line(String format, Object... values) {
        page.append(String.format(Locale.ROOT, format, values));
    }

    private void table(Tuning tuning, Costs costs) {
        line(
                "What each would have cost: %s a wasted visit, %s a problem that nobody knew of in time, %s an hour short of three"
                        + " days%n%n",
                Sweep.shortest(costs.visit()), Sweep.shortest(costs.stop()), Sweep.shortest(costs.late()));
        int width = Math.max(
                AS_IT_IS,
                tuning.variants().stream()
                        .mapToInt(variant -> variant.name().length())
                        .max()
                        .orElse(0));
        String row = "%s%s %-" + width + "s  %9s  %-26s  %6s  %-18s  %-22s  %7s  %s%n";
        line(row, " ", " ", "", "cost", "known", "missed", "wasted", "lead", "of all", "wrong a year");
        for (int i = 0; i < tuning.variants().size(); i++) {
            Judged judged = tuning.judged().get(i);
            line(
                    row,
                    i == tuning.cheapest() ? ">" : " ",
                    tuning.isOnFrontier(i) ? "*" : " ",
                    tuning.variants().get(i).name(),
                    String.format(Locale.ROOT, "%.0f", tuning.costs().get(i)),
                    known(judged),
                    judged.problems().size() - judged.found(),
                    between(String.valueOf(judged.wasted()), Judged.countInterval(judged.wasted()), "%.1f"),
                    lead(judged),
                    days(judged.leadOfAllHours()),
                    judged.falseRate().isEmpty()
                            ? "-"
                            : between(
                                    String.format(
                                            Locale.ROOT,
                                            "%.2f",
                                            judged.falseRate().getAsDouble()),
                                    judged.falseRateInterval(),
                                    "%.2f"));
        }
        line(
                "%n> cheapest; * on the frontier: none has a longer lead of all problems with no more wrong alerts, or fewer"
                        + " with no shorter one.%n"
                        + "Lead: median of those known, and of all, a missed one with none. Wrong alerts a sound machine-year. In brackets: 90 %% intervals.%n");
    }

    private static String known(Judged judged) {
        int all = judged.problems().size();
        return judged.recall()
                .map(share -> String.format(
                        Locale.ROOT, "%d of %d (%.2f to %.2f)", judged.found(), all, share.low(), share.high()))
                .orElse("none is known");
    }

    private static String lead(Judged judged) {
        return days(judged.leadHours(0.5))
                + judged.medianLeadInterval()
                        .map(ends -> String.format(
                                Locale.ROOT, " (%.1f to %.1f)", ends[0] / HOURS_A_DAY, ends[1] / HOURS_A_DAY))
                        .orElse("");
    }

    private static String days(OptionalDouble hours) {
        return hours.isEmpty() ? "-" : String.format(Locale.ROOT, "%.1f d", hours.getAsDouble() / HOURS_A_DAY);
    }

    private static String between(String value, double[] ends, String end) {
        return value + String.format(Locale.ROOT, " (" + end + " to " + end + ")", ends[0], ends[1]);
    }

    private void proposal(Tuning tuning) {
        Variant best = tuning.variants().get(tuning.best());
        String why = switch (tuning.outcome()) {
            case NONE_CHEAPER -> "None of these would have cost less than the policy as it is.";
            case WITHIN_ERROR ->
                "The cheapest is not cheaper than the policy as it is by more than its standard error, machine by machine.";
            case NOT_HELD ->
                "It would have been "
                        + tuning.variants().get(tuning.choice()).name()
                        + ", but such choices do not hold on machines that they had not seen.";
            case NOT_OVER_TIME ->
                "It would have been "
                        + tuning.variants().get(tuning.choice()).name()
                        + ", but such choices cost more on machines and in a time that they had not seen.";
            case PROPOSED -> "";
        };
        if (!why.isEmpty()) {
            line("%nProposed: nothing. %s%n", why);
            return;
        }
        if (tuning.best() != tuning.cheapest()) {
            line(
                    "%nThe cheapest and others are equal within the standard error; of these the nearest to the policy as it is.%n");
        }
        line(
                "%nProposed, instead of %.0f it would have cost %.0f:%n",
                tuning.before(), tuning.costs().get(tuning.best()));
        PolicyGuide guide = PolicyGuide.standard();
        best.changed().forEach((path, value) -> {
            line("  %s: %s%n", path, Sweep.shortest(value));
            guide.of(path)
                    .ifPresent(number -> line(
                            "    as the product has it: %s. %s%n", Sweep.shortest(number.standard()), number.text()));
        });
    }

    private static String overTime(Tuning tuning) {
        return tuning.overTime()
                .map(over -> String.format(
                        Locale.ROOT,
                        "  Chosen before %s and tried after it, and the other way round, on other machines: it costs %.0f, the policy"
                                + " as it is %.0f%s.%n",
                        over.middle().atZone(ZoneOffset.UTC).toLocalDate(),
                        over.unseen(),
                        over.before(),
                        Double.isFinite(over.unsure())
                                ? String.format(Locale.ROOT, ", standard error %.0f", over.unsure())
                                : ""))
                .orElse("  Whether it holds over time is not known: in one half of the time nothing costs anything.\n");
    }

    private void doubts(Tuning tuning, double years) {
        line("%nWhat is unsure%n");
        Judged now = tuning.judged().get(0);
        line(
                "  On machines that the choice had not seen it costs %.0f, the policy as it is %.0f (machines dealt into %d parts).%n",
                tuning.unseen(), tuning.before(), tuning.parts());
        line("  Chosen from the others: %s.%n", tuning.choices());
        if (Double.isFinite(tuning.unsure())) {
            line(
                    "  That is %.0f %s, with a standard error of %.0f; a proposal takes more than its standard error less.%n",
                    Math.abs(tuning.before() - tuning.unseen()),
                    tuning.unseen() > tuning.before() ? "more" : "less",
                    tuning.unsure());
        }
        line("%s", overTime(tuning));
        if (tuning.cheapest() != 0 && tuning.best() == 0) {
            line("  So the cheapest is no better than chance on these machines: leave the policy as it is.%n");
        }
        line(
                "  Known: %d problems, %.1f of %.1f machine-years sound; of %d alerts of the policy as it is nobody knows.%n",
                now.problems().size(), now.soundYears(), years, now.unlabelled().size());
        if (now.problems().size() < FEW) {
            line("  That is few: with fewer than %d problems one more or less decides.%n", FEW);
        }
        line("  What a visit has mended shows no longer, whatever the policy: see docs/backtest.md.%n");
    }
}
