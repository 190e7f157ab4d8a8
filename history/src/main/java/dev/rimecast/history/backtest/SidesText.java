package dev.rimecast.history.backtest;

import dev.rimecast.analytics.statistics.WilsonInterval;
import dev.rimecast.telemetry.finding.Cause;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;

/** The part of a back-test's page by machine and by cause, each line with the address of the plots that show it. */
final class SidesText {
    /** Of machines; all are in the file. */
    private static final int MOST_LINES = 40;

    private final SideBySide sides;
    private final String pages;
    private final StringBuilder page = new StringBuilder();

    private SidesText(SideBySide sides, String pages) {
        this.sides = sides;
        this.pages = pages;
    }

    /** @param pages what stands before each path; may be empty */
    static String causes(SideBySide sides, String pages) {
        SidesText text = new SidesText(sides, pages);
        text.causes();
        return text.page.toString();
    }

    /** @param pages what stands before each path; may be empty */
    static String machines(SideBySide sides, String pages) {
        SidesText text = new SidesText(sides, pages);
        text.machines();
        return text.page.toString();
    }

    private void line(String format, Object... values) {
        page.append(String.format(Locale.ROOT, format, values));
    }

    private void machines() {
        if (sides.machines().isEmpty()) {
            return;
        }
        line("%nBy machine: problems known of all; alerts right, wrong, of which nobody knows; plots%n");
        sides.machines().stream()
                .limit(MOST_LINES)
                .forEach(machine -> row(
                        machine.name().isEmpty() ? "(no machine)" : machine.name(),
                        machine.sums(),
                        sums -> sums.found() + " of " + sums.problems() + "; " + alerts(sums),
                        machine.look()));
        int more = sides.machines().size() - MOST_LINES;
        if (more > 0) {
            line("  and %d more: --out DIR writes all of them to %s%n", more, SidesFile.MACHINES);
        }
    }

    private void causes() {
        List<SideBySide.OfCause> known = sides.causes().stream()
                .filter(cause -> cause.sums().get(0).problems() > 0)
                .toList();
        if (!known.isEmpty()) {
            line("%nBy cause: known of all (90 %%); plots%n");
            known.forEach(cause -> row(
                    name(cause),
                    cause.sums(),
                    SidesText::known,
                    cause.looks().stream().findFirst()));
        }
        List<SideBySide.OfCause> named = sides.causes().stream()
                .filter(cause -> cause.sums().stream().anyMatch(sums -> sums.alerts() > 0))
                .toList();
        if (!named.isEmpty()) {
            line("%nAlerts by the cause that they named first: right, wrong, of which nobody knows%n");
            named.forEach(cause -> row(name(cause), cause.sums(), SidesText::alerts, Optional.empty()));
        }
    }

    private static String name(SideBySide.OfCause cause) {
        return cause.cause().map(Cause::code).orElse("not known");
    }

    private static String known(SideBySide.Sums sums) {
        WilsonInterval share = Judged.share(sums.found(), sums.problems());
        return String.format(
                Locale.ROOT, "%d of %d (%.2f to %.2f)", sums.found(), sums.problems(), share.low(), share.high());
    }

    private static String alerts(SideBySide.Sums sums) {
        return String.format(Locale.ROOT, "%d, %d, %d", sums.right(), sums.wrong(), sums.unlabelled());
    }

    private void row(
            String name, List<SideBySide.Sums> sums, Function<SideBySide.Sums, String> cell, Optional<Look> look) {
        line("%-52s", "  " + name);
        sums.forEach(each -> line("  %26s", cell.apply(each)));
        line("%s%n", look.map(at -> "  " + pages + at.path()).orElse(""));
    }
}
