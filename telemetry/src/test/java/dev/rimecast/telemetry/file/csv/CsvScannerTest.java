package dev.rimecast.telemetry.file.csv;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.Reader;
import java.io.StringReader;
import java.io.StringWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** The numbered points are those of RFC 4180 section 2. */
class CsvScannerTest {

    private static List<List<String>> records(String text) throws IOException {
        return records(new StringReader(text));
    }

    private static List<List<String>> records(Reader text) throws IOException {
        List<List<String>> records = new ArrayList<>();
        try (CsvScanner scanner = new CsvScanner(text)) {
            while (scanner.next()) {
                String fault =
                        scanner.fault().map(f -> scanner.line() + ": " + f).orElse("");
                records.add(
                        fault.isEmpty()
                                ? IntStream.range(0, scanner.cells())
                                        .mapToObj(scanner::cell)
                                        .toList()
                                : List.of(fault));
            }
        }
        return records;
    }

    @Test
    void next_examplesOfTheStandard_giveTheirCells() throws IOException {
        // 1 and 2: records on lines of their own, the last with or without a line break
        assertThat(records("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"))
                .containsExactly(List.of("aaa", "bbb", "ccc"), List.of("zzz", "yyy", "xxx"));
        assertThat(records("aaa,bbb,ccc\r\nzzz,yyy,xxx"))
                .containsExactly(List.of("aaa", "bbb", "ccc"), List.of("zzz", "yyy", "xxx"));
        // 5: cells may or may not stand in quotes
        assertThat(records("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"))
                .containsExactly(List.of("aaa", "bbb", "ccc"), List.of("zzz", "yyy", "xxx"));
        // 6: line breaks, quotes and commas in quotes
        assertThat(records("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"))
                .containsExactly(List.of("aaa", "b\r\nbb", "ccc"), List.of("zzz", "yyy", "xxx"));
        // 7: a quote in quotes is doubled
        assertThat(records("\"aaa\",\"b\"\"bb\",\"ccc\"")).containsExactly(List.of("aaa", "b\"bb", "ccc"));
    }

    @Test
    void next_spaces_arePartOfTheCell() throws IOException {
        // 4: "Spaces are considered part of a field and should not be ignored."
        assertThat(records(" a ,b\n")).containsExactly(List.of(" a ", "b"));
    }

    @Test
    void next_emptyCellsAndLines_keepTheirPlaces() throws IOException {
        assertThat(records(",\n\n\na,,\n\"\",b\n"))
                .containsExactly(List.of("", ""), List.of("a", "", ""), List.of("", "b"));
    }

    @Test
    void next_otherLineEndsAndByteOrderMark_areUnderstood() throws IOException {
        assertThat(records("\uFEFFa,b\rc,d\ne,f"))
                .containsExactly(List.of("a", "b"), List.of("c", "d"), List.of("e", "f"));
    }

    @Test
    void next_strayQuote_costsItsLineOnly() throws IOException {
        assertThat(records("a,b\nc,d\"e\nf,\"g\"h\ni,j\n"))
                .containsExactly(
                        List.of("a", "b"),
                        List.of("2: a quote stands inside a cell that does not begin with one"),
                        List.of("3: text stands after a closing quote"),
                        List.of("i", "j"));
    }

    @Test
    void next_quoteNeverClosed_costsItsLineOnly() throws IOException {
        assertThat(records("a,\"x\"\"y\",\"b\nc,d\ne,f\n"))
                .containsExactly(List.of("1: a quote is not closed"), List.of("c", "d"), List.of("e", "f"));
    }

    @Test
    void next_quoteNeverClosedInALongFile_costsItsLineOnly() throws IOException {
        String rest = "c,d\n".repeat(200_000);

        List<List<String>> records = records("a,\"b\n" + rest);

        assertThat(records).hasSize(200_001).startsWith(List.of("1: a quote is not closed"), List.of("c", "d"));
    }

    @Test
    void line_afterBreaksInQuotesAndFaults_isThatOfTheFile() throws IOException {
        try (CsvScanner scanner = new CsvScanner(new StringReader("a\n\"b\nb\"\n\n\"c\"c\nd"))) {
            List<Long> lines = new ArrayList<>();
            while (scanner.next()) {
                lines.add(scanner.line());
            }
            assertThat(lines).containsExactly(1L, 2L, 5L, 6L);
        }
    }

    @Test
    void next_whatCsvOutputWrote_isReadBack() throws IOException {
        long seed = 4180;
        Random random = new Random(seed);
        String alphabet = "ab,\"\n\r é漢";
        List<List<String>> rows = new ArrayList<>();
        for (int row = 0; row < 2000; row++) {
            rows.add(IntStream.range(0, 4)
                    .mapToObj(column -> "x"
                            + random.ints(random.nextInt(12), 0, alphabet.length())
                                    .mapToObj(i -> String.valueOf(alphabet.charAt(i)))
                                    .reduce("", String::concat))
                    .toList());
        }
        StringWriter text = new StringWriter();
        try (CsvOutput out = new CsvOutput(text, List.of("a", "b", "c", "d"))) {
            for (List<String> row : rows) {
                out.row(row);
            }
        }

        List<List<String>> read = records(new OneCharacterAtATime(text.toString()));

        assertThat(read.subList(1, read.size())).as("seed " + seed).isEqualTo(rows);
    }

    /** The worst that a stream may do to a scanner: every look ahead needs another read. */
    private static final class OneCharacterAtATime extends StringReader {
        OneCharacterAtATime(String text) {
            super(text);
        }

        @Override
        public int read(char[] buffer, int offset, int length) throws IOException {
            return super.read(buffer, offset, Math.min(length, 1));
        }
    }
}
