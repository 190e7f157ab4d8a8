package dev.rimecast.history.backtest;

import dev.rimecast.telemetry.file.csv.CsvOutput;
import dev.rimecast.telemetry.finding.Cause;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What policies made of each machine and cause as CSV: a row for each and each policy. */
public final class SidesFile {
    public static final String MACHINES = "by_machine.csv";
    public static final String CAUSES = "by_cause.csv";

    private static final List<String> COUNTS = List.of(
            "problems",
            "known",
            "missed",
            "earlier",
            "later",
            "right",
            "wrong",
            "unlabelled",
            "contradicting",
            "plots");

    private SidesFile() {}

    /**
     * Writes both files.
     *
     * @param names of the policies
     * @param pages what stands before the path of each machine's page; may be empty
     * @throws IOException if one can't be written
     */
    public static void write(Path directory, List<String> names, SideBySide sides, String pages) throws IOException {
        try (CsvOutput out = new CsvOutput(directory.resolve(MACHINES), header("machine"))) {
            for (SideBySide.OfMachine machine : sides.machines()) {
                rows(out, machine.name(), names, machine.sums(), machine.look(), pages);
            }
        }
        try (CsvOutput out = new CsvOutput(directory.resolve(CAUSES), header("cause"))) {
            for (SideBySide.OfCause cause : sides.causes()) {
                Optional<Look> look = cause.looks().stream().findFirst();
                rows(out, cause.cause().map(Cause::code).orElse(""), names, cause.sums(), look, pages);
            }
        }
    }

    private static List<String> header(String what) {
        List<String> header = new ArrayList<>(List.of(what, "policy"));
        header.addAll(COUNTS);
        return header;
    }

    private static void rows(
            CsvOutput out,
            String what,
            List<String> names,
            List<SideBySide.Sums> sums,
            Optional<Look> look,
            String pages)
            throws IOException {
        for (int policy = 0; policy < sums.size(); policy++) {
            SideBySide.Sums each = sums.get(policy);
            out.row(List.of(
                    what,
                    names.get(policy),
                    String.valueOf(each.problems()),
                    String.valueOf(each.found()),
                    String.valueOf(each.missed()),
                    String.valueOf(each.earlier()),
                    String.valueOf(each.later()),
                    String.valueOf(each.right()),
                    String.valueOf(each.wrong()),
                    String.valueOf(each.unlabelled()),
                    String.valueOf(each.contradicting()),
                    look.map(at -> pages + at.path()).orElse("")));
        }
    }
}
