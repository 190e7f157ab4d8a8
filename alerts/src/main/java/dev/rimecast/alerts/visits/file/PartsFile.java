package dev.rimecast.alerts.visits.file;

import dev.rimecast.alerts.visits.plan.PartLeads;
import dev.rimecast.telemetry.file.csv.Columns;
import dev.rimecast.telemetry.file.csv.CsvRow;
import dev.rimecast.telemetry.file.csv.CsvTable;
import java.io.IOException;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * {@code parts.csv}: what takes time to come. {@code part} is a part as the advice names it, {@code lead_days} whole days
 * from the order until it is there. What is not in the file is in the van.
 */
public final class PartsFile {
    static final Columns COLUMNS = new Columns(List.of("part", "lead_days"), List.of());

    private static final int LONGEST_DAYS = 365;

    private final Map<String, Long> lineOfPart = new HashMap<>();

    private PartsFile() {}

    private record Lead(String part, int days) {}

    /**
     * Reads the parts.
     *
     * @throws IOException if the file can't be read at all
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if anything in it is wrong, everything at once
     */
    public static PartLeads read(Path file) throws IOException {
        Map<String, Integer> leads = new HashMap<>();
        PartsFile parts = new PartsFile();
        for (Lead lead : CsvTable.read(file, COLUMNS, parts::lead)) {
            leads.put(lead.part(), lead.days());
        }
        return new PartLeads(leads, parts.lineOfPart, true);
    }

    private Lead lead(CsvRow row) {
        String part = row.required("part").strip();
        Long first = part.isEmpty() ? null : lineOfPart.putIfAbsent(part.toLowerCase(Locale.ROOT), row.line());
        if (first != null) {
            row.problem("part", part + " is here twice, first in line " + first + ": delete one of the lines");
        }
        row.required("lead_days");
        return new Lead(part, row.integer("lead_days", 0, LONGEST_DAYS).orElse(0));
    }
}
