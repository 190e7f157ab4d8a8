package dev.rimecast.telemetry.file;

import dev.rimecast.telemetry.file.csv.Columns;
import dev.rimecast.telemetry.file.csv.CsvOutput;
import dev.rimecast.telemetry.file.csv.CsvRow;
import dev.rimecast.telemetry.file.csv.CsvTable;
import dev.rimecast.telemetry.file.csv.Decimals;
import dev.rimecast.telemetry.yaml.Range;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** {@code weather.csv}: one line for each site and day. */
public final class WeatherFile {
    static final Columns COLUMNS = new Columns(List.of("site", "date", "max_c"), List.of());

    /** Wider than the coldest and hottest days on record on earth (-89.2 °C and 56.7 °C, WMO archive, from memory). */
    private static final Range CELSIUS = Range.of(-90, 60);

    private final Map<SiteDay, Long> lineOfDay = new HashMap<>();

    private record SiteDay(String site, LocalDate date) {}

    private WeatherFile() {}

    /**
     * Reads the weather, in the order of the file.
     *
     * @throws IOException if the file can't be read at all
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if anything in it is wrong, everything at once
     */
    public static List<WeatherRow> read(Path file) throws IOException {
        return CsvTable.read(file, COLUMNS, new WeatherFile()::weather);
    }

    /**
     * Reads the lines that can be read, in the order of the table.
     *
     * @param name what problems call the table
     * @param csv read to the end and closed
     * @throws IOException if it can't be read at all
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if its header is wrong
     */
    public static CsvTable.Readable<WeatherRow> readGoodRows(String name, InputStream csv) throws IOException {
        return CsvTable.readGoodRows(name, csv, COLUMNS, new WeatherFile()::weather);
    }

    private WeatherRow weather(CsvRow row) {
        String site = row.id("site");
        row.required("date");
        row.required("max_c");
        LocalDate date = row.date("date").orElse(LocalDate.EPOCH);
        boolean good = row.isGood("site") && row.isGood("date");
        Long first = good ? lineOfDay.putIfAbsent(new SiteDay(site, date), row.line()) : null;
        if (first != null) {
            row.problem("date", date + " of site " + site + " is here twice, first in line " + first + ": delete one");
        }
        return new WeatherRow(site, date, row.number("max_c", CELSIUS).orElse(0));
    }

    /** Writes the weather in the order given. */
    public static void write(Path file, Collection<WeatherRow> weather) throws IOException {
        try (CsvOutput out = new CsvOutput(file, COLUMNS.all())) {
            for (WeatherRow row : weather) {
                out.row(List.of(row.site(), row.date().toString(), Decimals.shortest(row.maxCelsius())));
            }
        }
    }
}
