package dev.rimecast.telemetry.file.csv;

import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.IntStream;

/** Reads a small file whole. Everything that is wrong with it is told at once. */
public final class CsvTable {
    /** Beyond that many problems one does not read on but asks what the file is. */
    private static final int MOST_PROBLEMS = 200;

    private CsvTable() {}

    /**
     * Reads one value from each row.
     *
     * @param reader takes what it needs from a row; an {@link IllegalArgumentException} of its is a problem of the row
     * @throws IOException if the file can't be read at all
     * @throws InputProblems if anything in it is wrong
     */
    public static <T> List<T> read(Path file, Columns columns, Function<CsvRow, T> reader) throws IOException {
        Readable<T> all = read(file.toString(), DataFiles.open(file), columns, reader, MOST_PROBLEMS);
        stopOn(all.problems());
        return all.rows().stream().map(Numbered::value).toList();
    }

    /**
     * A row that could be read.
     *
     * @param line on which it starts, counted from 1
     */
    public record Numbered<T>(long line, T value) {}

    /** What could be read of a table, and what is wrong with the rest. */
    public record Readable<T>(List<Numbered<T>> rows, List<InputProblem> problems) {
        public Readable {
            rows = List.copyOf(rows);
            problems = List.copyOf(problems);
        }
    }

    /**
     * Reads what can be read: a bad row does not spoil the others.
     *
     * @param name what problems call the table
     * @param bytes read to the end and closed
     * @throws IOException if it can't be read at all
     * @throws InputProblems if the header is wrong, so that no row can be understood
     */
    public static <T> Readable<T> readGoodRows(
            String name, InputStream bytes, Columns columns, Function<CsvRow, T> reader) throws IOException {
        return read(name, bytes, columns, reader, Integer.MAX_VALUE);
    }

    /**
     * Reads one row that came in another way than by a file, as the same row of a file would be.
     *
     * @param name what problems call it
     * @param cells by column; an empty one is absent
     * @throws InputProblems if anything in it is wrong, everything at once
     */
    public static <T> T readOne(String name, Columns columns, Map<String, String> cells, Function<CsvRow, T> reader) {
        List<InputProblem> problems = new ArrayList<>();
        Map<String, Integer> positions = columns.positions(name, 0, List.copyOf(cells.keySet()), problems);
        stopOn(problems);
        List<Numbered<T>> rows = new ArrayList<>(1);
        row(new CsvRow(name, 0, positions, List.copyOf(cells.values()), problems), problems, reader, rows);
        stopOn(problems);
        return rows.get(0).value();
    }

    private static <T> Readable<T> read(
            String name, InputStream bytes, Columns columns, Function<CsvRow, T> reader, int mostProblems)
            throws IOException {
        List<InputProblem> problems = new ArrayList<>();
        List<Numbered<T>> rows = new ArrayList<>();
        InputStreamReader text = new InputStreamReader(
                bytes,
                StandardCharsets.UTF_8
                        .newDecoder()
                        .onMalformedInput(CodingErrorAction.REPORT)
                        .onUnmappableCharacter(CodingErrorAction.REPORT));
        long line = 1;
        try (CsvScanner scanner = new CsvScanner(text)) {
            Map<String, Integer> positions = header(name, columns, scanner, problems);
            stopOn(problems);
            while (problems.size() < mostProblems && scanner.next()) {
                line = scanner.line();
                row(name, positions, scanner, problems, reader, rows);
            }
        } catch (CharacterCodingException e) {
            problems.add(
                    new InputProblem(name, 0, "", "is not UTF-8 after line " + line + ": save it in that encoding"));
        }
        return new Readable<>(rows, problems);
    }

    private static Map<String, Integer> header(
            String name, Columns columns, CsvScanner scanner, List<InputProblem> problems) throws IOException {
        if (!scanner.next()) {
            problems.add(new InputProblem(
                    name,
                    0,
                    "",
                    "is empty: it needs a header with the columns " + String.join(",", columns.required())));
            return Map.of();
        }
        if (scanner.fault().isPresent()) {
            problems.add(
                    new InputProblem(name, scanner.line(), "", scanner.fault().get()));
            return Map.of();
        }
        return columns.positions(name, scanner.line(), cells(scanner), problems);
    }

    private static <T> void row(
            String name,
            Map<String, Integer> positions,
            CsvScanner scanner,
            List<InputProblem> problems,
            Function<CsvRow, T> reader,
            List<Numbered<T>> rows) {
        if (scanner.fault().isPresent()) {
            problems.add(
                    new InputProblem(name, scanner.line(), "", scanner.fault().get()));
            return;
        }
        if (scanner.cells() != positions.size()) {
            problems.add(new InputProblem(
                    name,
                    scanner.line(),
                    "",
                    "has " + scanner.cells() + " cells where the header has " + positions.size()
                            + ": a cell that contains a comma must stand in quotes"));
            return;
        }
        row(new CsvRow(name, scanner.line(), positions, cells(scanner), problems), problems, reader, rows);
    }

    private static <T> void row(
            CsvRow row, List<InputProblem> problems, Function<CsvRow, T> reader, List<Numbered<T>> rows) {
        int before = problems.size();
        try {
            T value = reader.apply(row);
            if (problems.size() == before) {
                rows.add(new Numbered<>(row.line(), value));
            }
        } catch (IllegalArgumentException e) {
            // A record refused values that are wrong together, or one that stands in for a value found wrong before.
            if (problems.size() == before) {
                row.problem("", String.valueOf(e.getMessage()));
            }
        }
    }

    private static List<String> cells(CsvScanner scanner) {
        return IntStream.range(0, scanner.cells()).mapToObj(scanner::cell).toList();
    }

    private static void stopOn(List<InputProblem> problems) {
        if (!problems.isEmpty()) {
            throw new InputProblems(problems);
        }
    }
}
