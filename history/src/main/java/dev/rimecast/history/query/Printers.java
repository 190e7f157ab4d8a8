package dev.rimecast.history.query;

import dev.rimecast.telemetry.file.csv.CsvOutput;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.Writer;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/** An answer for a person, for a spreadsheet, for a program. */
public final class Printers {
    /** A table is laid out by its first rows; more are printed as they come. */
    private static final int LAID_OUT = 1000;

    private static final int WIDEST = 60;

    private Printers() {}

    /** Columns side by side, and how many rows there were. */
    public static Answer table(PrintWriter out) {
        return new TextTable(out);
    }

    /** RFC 4180. */
    public static Answer csv(Writer out) {
        return new Csv(out);
    }

    /** A JSON object a line. */
    public static Answer json(PrintWriter out) {
        return new JsonLines(out);
    }

    static String text(@Nullable Object cell) {
        if (cell == null) {
            return "";
        }
        if (cell instanceof Boolean flag) {
            return flag ? "1" : "0";
        }
        return cell.toString();
    }

    private static final class TextTable implements Answer {
        private final PrintWriter out;
        private final List<List<String>> waiting = new ArrayList<>();
        private int[] widths = new int[0];
        private long rows;

        TextTable(PrintWriter out) {
            this.out = out;
        }

        @Override
        public void columns(List<String> names) {
            widths = new int[names.size()];
            wait(names);
        }

        private void wait(List<String> cells) {
            for (int i = 0; i < widths.length; i++) {
                widths[i] = Math.max(widths[i], Math.min(WIDEST, cells.get(i).length()));
            }
            waiting.add(cells);
        }

        @Override
        public void row(List<@Nullable Object> cells) {
            rows++;
            List<String> texts = cells.stream()
                    .map(cell -> cell instanceof Double number ? rounded(number) : text(cell))
                    .toList();
            if (rows <= LAID_OUT) {
                wait(texts);
            } else {
                flush();
                print(texts);
            }
        }

        private static String rounded(double number) {
            return String.format(Locale.ROOT, "%.6g", number)
                    .replaceAll("(\\.\\d*?)0+(e.*)?$", "$1$2")
                    .replaceAll("\\.(e|$)", "$1");
        }

        private void flush() {
            waiting.forEach(this::print);
            waiting.clear();
        }

        private void print(List<String> cells) {
            StringBuilder line = new StringBuilder();
            for (int i = 0; i < cells.size(); i++) {
                String cell = cells.get(i);
                line.append(cell).append(" ".repeat(Math.max(0, widths[i] - cell.length())));
                line.append(i + 1 < cells.size() ? "  " : "");
            }
            out.println(line.toString().stripTrailing());
        }

        @Override
        public void end() {
            flush();
            out.printf(Locale.ROOT, "(%,d %s)%n", rows, rows == 1 ? "row" : "rows");
            out.flush();
        }
    }

    private static final class Csv implements Answer {
        private final Writer writer;
        private @Nullable CsvOutput out;

        Csv(Writer writer) {
            this.writer = writer;
        }

        @Override
        public void columns(List<String> names) throws IOException {
            out = new CsvOutput(writer, names);
        }

        @Override
        public void row(List<@Nullable Object> cells) throws IOException {
            Objects.requireNonNull(out).row(cells.stream().map(Printers::text).toList());
        }

        @Override
        public void end() throws IOException {
            Objects.requireNonNull(out).close();
        }
    }

    private static final class JsonLines implements Answer {
        private final PrintWriter out;
        private List<String> names = List.of();

        JsonLines(PrintWriter out) {
            this.out = out;
        }

        @Override
        public void columns(List<String> columns) {
            names = columns;
        }

        @Override
        public void row(List<@Nullable Object> cells) {
            StringBuilder line = new StringBuilder("{");
            for (int i = 0; i < cells.size(); i++) {
                line.append(i == 0 ? "" : ",")
                        .append(quoted(names.get(i)))
                        .append(':')
                        .append(value(cells.get(i)));
            }
            out.println(line.append('}'));
        }

        private static String value(@Nullable Object cell) {
            if (cell == null || cell instanceof Boolean) {
                return String.valueOf(cell);
            }
            if (cell instanceof Double number) {
                return Double.isFinite(number) ? number.toString() : "null";
            }
            return cell instanceof Number ? cell.toString() : quoted(cell.toString());
        }

        private static String quoted(String text) {
            StringBuilder quoted = new StringBuilder("\"");
            for (int i = 0; i < text.length(); i++) {
                char c = text.charAt(i);
                if (c == '"' || c == '\\') {
                    quoted.append('\\').append(c);
                } else if (c < ' ') {
                    quoted.append(String.format(Locale.ROOT, "\\u%04x", (int) c));
                } else {
                    quoted.append(c);
                }
            }
            return quoted.append('"').toString();
        }

        @Override
        public void end() {
            out.flush();
        }
    }
}
