package dev.rimecast.app.fuzz;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.file.csv.CsvTable;
import dev.rimecast.telemetry.file.csv.InputProblem;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.SortedSet;
import java.util.TreeSet;

/** Counts the lines of an input without the parser, so that what it passes over unsaid is noticed. */
final class Lines {
    /** Lines that were taken as good or told as bad, by number. */
    private final SortedSet<Long> told = new TreeSet<>();

    private final List<String> lines;

    private Lines(List<String> lines) {
        this.lines = lines;
    }

    /** Of a table: lines end with LF, CRLF or CR, and a mark of the byte order is no part of the first. */
    static Lines ofTable(byte[] content) {
        String text = new String(content, StandardCharsets.UTF_8);
        String bare = text.startsWith("\uFEFF") ? text.substring(1) : text;
        return new Lines(List.of(bare.split("\r\n|\r|\n", -1)));
    }

    /** Of a capture: lines end with LF. */
    static Lines ofCapture(byte[] content) {
        return new Lines(List.of(new String(content, StandardCharsets.UTF_8).split("\n", -1)));
    }

    /** What the parser says of one line, once. */
    void tell(long line) {
        assertThat(told.add(line)).as("line %s is counted twice", line).isTrue();
    }

    /** A row may span lines, where its cells stand in quotes. */
    private boolean hasQuotes() {
        return lines.stream().anyMatch(line -> line.indexOf('"') >= 0);
    }

    /** Every line with anything in it is the header, or was told. */
    void assertTableIsTold() {
        if (hasQuotes()) {
            assertThat(told.size()).isLessThan(Math.max(2, lines.size()));
            return;
        }
        List<Long> expected = numbersOf(false);
        assertThat(List.copyOf(told)).isEqualTo(expected.subList(1, expected.size()));
    }

    /** Every line with anything in it is the header or one of the rows that were read, where none was told as bad. */
    void assertRows(int rows) {
        if (hasQuotes()) {
            assertThat(rows).isLessThan(Math.max(2, lines.size()));
            return;
        }
        assertThat(rows).isEqualTo(numbersOf(false).size() - 1);
    }

    /** Every line with anything in it was told, but acknowledgements, which say nothing of a machine. */
    void assertCaptureIsTold() {
        List<Long> left = numbersOf(true);
        left.removeAll(told);
        assertThat(left).allMatch(number -> mayBeAcknowledgement(lines.get((int) (number - 1))));
        assertThat(told).allMatch(number -> !lines.get((int) (number - 1)).isBlank());
    }

    private static boolean mayBeAcknowledgement(String line) {
        return line.contains("/ack\"") || line.contains("\\");
    }

    private List<Long> numbersOf(boolean isBlankNothing) {
        List<Long> numbers = new ArrayList<>();
        for (int i = 0; i < lines.size(); i++) {
            String line = lines.get(i);
            if (!(isBlankNothing ? line.isBlank() : line.isEmpty())) {
                numbers.add(i + 1L);
            }
        }
        return numbers;
    }

    /** A table is told when each of its lines is a row or has a problem; one that is no text at all has a problem as a whole. */
    static void assertTold(byte[] content, CsvTable.Readable<?> read) {
        Lines lines = ofTable(content);
        SortedSet<Long> bad = new TreeSet<>();
        read.problems().stream().map(InputProblem::line).forEach(bad::add);
        read.rows().forEach(row -> lines.tell(row.line()));
        boolean isAsAWhole = bad.remove(0L);
        bad.forEach(lines::tell);
        if (!isAsAWhole) {
            lines.assertTableIsTold();
        }
    }
}
