package dev.rimecast.history.fleet;

import dev.rimecast.history.fleet.FleetReport.FeatureFit;
import dev.rimecast.history.fleet.FleetReport.GroupDiffers;
import dev.rimecast.history.fleet.FleetReport.SensorChange;
import dev.rimecast.history.fleet.FleetReport.Unfit;
import java.io.PrintWriter;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;

/** The report in words. */
public final class FleetText {
    /** Lines of one list; the rest is counted. */
    private static final int MOST = 30;
    /** Names of what was left out; the rest is counted. */
    private static final int SOME = 5;

    private final PrintWriter out;
    private final FleetReport report;

    private FleetText(FleetReport report, PrintWriter out) {
        this.report = report;
        this.out = out;
    }

    public static void print(FleetReport report, PrintWriter out) {
        FleetText text = new FleetText(report, out);
        text.expectations();
        text.sensors();
        text.groups();
        out.flush();
    }

    private void line(String form, Object... values) {
        out.print(String.format(Locale.ROOT, form, values));
        out.print('\n');
    }

    private static String day(Instant at) {
        return at.truncatedTo(ChronoUnit.DAYS).toString().substring(0, 10);
    }

    private void expectations() {
        line("Expectations, %s to %s", day(report.fitFrom()), day(report.until()));
        line(
                "  %d of %d machines have enough cycles for a word. Of %d it no longer fits (%.1f %%): %d with an alert that says so,"
                        + " %d without.",
                report.judged(),
                report.machines(),
                report.off(),
                report.judged() == 0 ? 0 : 100.0 * report.off() / report.judged(),
                report.off() - report.unexplained(),
                report.unexplained());
        for (FeatureFit fit : report.fits()) {
            line(
                    "  %-15s %9d cycles of %5d machines without an alert, %4.1f %% within two deviations (about 95 are right)",
                    fit.feature().code(), fit.cycles(), fit.machines(), 100 * fit.withinTwo());
        }
        for (Unfit each :
                report.unfit().subList(0, Math.min(MOST, report.unfit().size()))) {
            line(
                    "  %-24s %-15s %+5.1f deviations in the median of %d cycles%s",
                    each.machine(),
                    each.feature().code(),
                    each.median(),
                    each.cycles(),
                    each.alerts().isEmpty() ? ": no alert" : ": " + String.join(", ", each.alerts()));
        }
        rest(report.unfit());
        leftOut(Scope.Part.EXPECTATIONS);
    }

    private void sensors() {
        line("");
        line("Sensors, %s to %s", day(report.from()), day(report.until()));
        if (report.sensors().isEmpty()) {
            line("  None has changed.");
        }
        for (SensorChange each :
                report.sensors().subList(0, Math.min(MOST, report.sensors().size()))) {
            line("  %-24s %-22s %s", each.machine(), each.channel(), words(each));
        }
        rest(report.sensors());
        leftOut(Scope.Part.SILENT);
        leftOut(Scope.Part.APART_FROM_ROOM);
        leftOut(Scope.Part.PROBE_MOVES);
    }

    private static String words(SensorChange each) {
        String range = String.format(Locale.ROOT, "%+.1f K (%+.1f to %+.1f)", each.amount(), each.low(), each.high());
        return switch (each.change()) {
            case SILENT ->
                String.format(
                        Locale.ROOT,
                        "is missing from %.0f %% more cycles of the last week than before",
                        100 * each.amount());
            case APART_FROM_ROOM -> "moves away from the others in its room: " + range;
            case PROBE_MOVES -> "moves, and neither freeze nor pull-down does: " + range;
        };
    }

    private void groups() {
        line("");
        line("Model groups");
        if (report.groups().isEmpty()) {
            line("  None is another kind than the others.");
        }
        for (GroupDiffers each : report.groups()) {
            line(
                    "  %-24s %-15s %+.1f deviations (%d machines), the others %+.1f: its kind has changed, or is not what its prior says",
                    each.modelGroup(), each.feature().code(), each.median(), each.machines(), each.others());
        }
        leftOut(Scope.Part.GROUPS);
    }

    private void leftOut(Scope.Part part) {
        report.scopes().stream().filter(scope -> scope.part() == part).forEach(scope -> line("  %s", inWords(scope)));
    }

    private static String inWords(Scope scope) {
        String looked = String.format(Locale.ROOT, "%s: %d machines looked at", title(scope.part()), scope.looked());
        if (scope.leftOut().isEmpty()) {
            return looked + ", none left out";
        }
        return looked + ", left out: "
                + scope.leftOut().stream()
                        .map(each -> each.machines().size() + " ("
                                + each.reason().words() + ": " + names(each.machines()) + ')')
                        .collect(Collectors.joining(", "));
    }

    private static String title(Scope.Part part) {
        return switch (part) {
            case EXPECTATIONS -> "Expectations";
            case SILENT -> "Fallen silent";
            case APART_FROM_ROOM -> "Air against the room";
            case PROBE_MOVES -> "Evaporator probes";
            case GROUPS -> "Model groups";
        };
    }

    private static String names(List<String> machines) {
        return machines.size() <= SOME
                ? String.join(", ", machines)
                : String.join(", ", machines.subList(0, SOME)) + " …";
    }

    private void rest(List<?> all) {
        if (all.size() > MOST) {
            line("  and %d more", all.size() - MOST);
        }
    }
}
